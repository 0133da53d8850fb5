using System.Diagnostics;
using System.Text;

namespace Seamwright.Audio.External;

/// <summary>One run of ffmpeg: what it reads and writes, ended when it stalls or is no longer wanted.</summary>
public sealed class FfmpegRun : IDisposable
{
    // What it says beyond is counted only.
    private const int MostSaid = 8192;

    private readonly Process process;
    private readonly Stream output;
    private readonly Task<string> said;
    private readonly Timer watch;
    private readonly TimeSpan patience;
    private readonly CancellationTokenRegistration onCancel;
    private readonly CancellationToken cancel;

    private FfmpegRun(Process process, TimeSpan patience, CancellationToken cancel)
    {
        (this.process, this.patience, this.cancel) = (process, patience, cancel);
        output = process.StandardOutput.BaseStream;
        said = Task.Run(() => Listen(process.StandardError));
        watch = new Timer(_ => Stop(stalled: true));
        onCancel = cancel.Register(() => Stop(stalled: false));
    }

    /// <summary>Whether it was ended because nothing came any more.</summary>
    public bool Stalled { get; private set; }

    /// <summary>Starts it, without a shell.</summary>
    /// <param name="program">Its whole path.</param>
    /// <param name="arguments">Each as it is.</param>
    /// <param name="patience">How long it may keep us waiting.</param>
    /// <param name="cancel">Ends it.</param>
    /// <param name="isFed">Whether it will be given something to read.</param>
    /// <exception cref="System.ComponentModel.Win32Exception">The program cannot be run.</exception>
    public static FfmpegRun Start(string program, IEnumerable<string> arguments, TimeSpan patience, CancellationToken cancel, bool isFed = false)
    {
        var how = new ProcessStartInfo(program)
        {
            UseShellExecute = false,
            CreateNoWindow = true,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardErrorEncoding = Encoding.UTF8,
        };
        foreach (var argument in arguments) how.ArgumentList.Add(argument);

        // It would write a report into the folder one happens to be in.
        how.Environment.Remove("FFREPORT");
        var process = Process.Start(how)!;
        if (!isFed) process.StandardInput.Close();
        return new FfmpegRun(process, patience, cancel);
    }

    /// <summary>The next bytes; fewer than asked for only at the end.</summary>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public int Read(Span<byte> bytes)
    {
        var read = 0;
        while (read < bytes.Length)
        {
            // Only the time that we wait is counted: a slow listener is not its fault.
            watch.Change(patience, Timeout.InfiniteTimeSpan);
            var more = ReadOnce(bytes[read..]);
            watch.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
            cancel.ThrowIfCancellationRequested();
            if (more == 0) break;
            read += more;
        }

        return read;
    }

    /// <summary>Gives it something to read; false where it takes no more.</summary>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public bool Feed(ReadOnlySpan<byte> bytes)
    {
        watch.Change(patience, Timeout.InfiniteTimeSpan);
        var taken = FeedOnce(bytes);
        watch.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        cancel.ThrowIfCancellationRequested();
        return taken;
    }

    /// <summary>Tells it that nothing more comes.</summary>
    public void EndFeeding()
    {
        try
        {
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // It had ended before.
        }
    }

    /// <summary>Waits for its end and gives the exit code and what it said.</summary>
    public (int Code, string Said) Finish()
    {
        if (!process.WaitForExit(patience)) Stop(stalled: true);
        process.WaitForExit(patience);
        return (process.HasExited ? process.ExitCode : -1, said.Wait(patience) ? said.Result : "");
    }

    public void Dispose()
    {
        onCancel.Dispose();
        watch.Dispose();
        Stop(stalled: false);

        // Until it has ended it may hold the file that it wrote.
        process.WaitForExit(TimeSpan.FromSeconds(5));
        output.Dispose();
        process.Dispose();
    }

    private int ReadOnce(Span<byte> bytes)
    {
        try
        {
            return output.Read(bytes);
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            return 0;
        }
    }

    private bool FeedOnce(ReadOnlySpan<byte> bytes)
    {
        try
        {
            process.StandardInput.BaseStream.Write(bytes);
            return true;
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            return false;
        }
    }

    private void Stop(bool stalled)
    {
        Stalled |= stalled;
        try
        {
            if (!process.HasExited) process.Kill(entireProcessTree: true);
        }
        catch (Exception e) when (e is InvalidOperationException or System.ComponentModel.Win32Exception or NotSupportedException)
        {
            // It ended by itself in the meantime.
        }
    }

    // All is read, so that it never waits for us, and the beginning is kept.
    private static string Listen(StreamReader reader)
    {
        var kept = new StringBuilder();
        var buffer = new char[1024];
        try
        {
            int read;
            while ((read = reader.Read(buffer)) > 0)
            {
                if (kept.Length < MostSaid) kept.Append(buffer, 0, read);
            }
        }
        catch (Exception e) when (e is IOException or ObjectDisposedException)
        {
            // Ended by us.
        }

        return kept.ToString();
    }
}
