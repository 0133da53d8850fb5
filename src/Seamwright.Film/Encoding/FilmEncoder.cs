using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Seamwright.Core;
using Seamwright.Film.Screen;

namespace Seamwright.Film.Encoding;

/// <summary>What the encoder works with.</summary>
/// <param name="Sound">A WAV file.</param>
/// <param name="Target">Written over.</param>
/// <param name="Title">For the film's own label; may be empty.</param>
internal sealed record EncoderInput(string Sound, string Target, string Title);

/// <summary>The program ffmpeg at work: takes frames on its standard input, without a shell, and never for longer than it may.</summary>
internal sealed partial class FilmEncoder : IDisposable
{
    private const int MostSaid = 4096;
    private readonly Process process;
    private readonly Stream input;
    private readonly Task<string> said;
    private readonly Timer watch;
    private readonly TimeSpan patience;
    private readonly CancellationTokenRegistration onCancel;
    private readonly CancellationToken cancel;
    private bool stalled, broken;

    private FilmEncoder(Process process, TimeSpan patience, CancellationToken cancel)
    {
        (this.process, this.patience, this.cancel) = (process, patience, cancel);
        input = process.StandardInput.BaseStream;
        said = Task.Run(() => Listen(process.StandardError));
        watch = new Timer(_ => Stop(isStalled: true));
        onCancel = cancel.Register(() => Stop(isStalled: false));
    }

    /// <summary>Starts it.</summary>
    /// <returns>Null where it cannot be run: then there is a problem.</returns>
    public static FilmEncoder? Start(string program, EncoderInput what, FilmLimits limits, CancellationToken cancel, out Problem? refused)
    {
        var how = new ProcessStartInfo(program)
        {
            UseShellExecute = false,
            CreateNoWindow = true,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardErrorEncoding = System.Text.Encoding.UTF8,
        };
        foreach (var argument in Arguments(what)) how.ArgumentList.Add(argument);

        // It would write a report into the folder one happens to be in.
        how.Environment.Remove("FFREPORT");
        try
        {
            refused = null;
            return new FilmEncoder(Process.Start(how)!, TimeSpan.FromSeconds(limits.Patience.Value), cancel);
        }
        catch (Win32Exception e)
        {
            refused = new Problem("ffmpeg", $"the program cannot be started ({program}): {e.Message}.", "Check that it can be run by itself.", Severity.Error);
            return null;
        }
    }

    /// <summary>Hands over one frame.</summary>
    /// <returns>False where it takes no more: <see cref="Finish"/> then says why.</returns>
    public bool Write(byte[] frame)
    {
        // Only the time that we wait is counted.
        watch.Change(patience, Timeout.InfiniteTimeSpan);
        try
        {
            input.Write(frame);
        }
        catch (IOException)
        {
            broken = true;
        }

        watch.Change(Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        cancel.ThrowIfCancellationRequested();
        return !broken;
    }

    /// <summary>Waits for its end.</summary>
    /// <returns>What went wrong; null where the film is whole.</returns>
    public Problem? Finish()
    {
        CloseInput();
        if (!process.WaitForExit(patience)) Stop(isStalled: true);
        process.WaitForExit(patience);
        cancel.ThrowIfCancellationRequested();
        var code = process.HasExited ? process.ExitCode : -1;
        return code == 0 && !broken && !stalled ? null : Explain(code, said.Wait(patience) ? said.Result : "");
    }

    public void Dispose()
    {
        onCancel.Dispose();
        watch.Dispose();
        Stop(isStalled: false);
        CloseInput();
        process.Dispose();
    }

    // Almost every dot of a frame is as it was: what searches for motion, scenes and a better order of pictures finds nothing and
    // takes half the time. Pale colours on paper are kept finer than usual, or they turn pink and green.
    private static IEnumerable<string> Arguments(EncoderInput what) =>
    [
        "-hide_banner", "-nostats", "-loglevel", "error", "-y", "-protocol_whitelist", "file,pipe",
        "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", $"{ScreenLayout.Width}x{ScreenLayout.Height}", "-r", Number(ScreenLayout.FramesPerSecond), "-i", "pipe:0",
        "-f", "wav", "-i", "file:" + what.Sound,
        "-map", "0:v:0", "-map", "1:a:0", "-map_metadata", "-1", "-metadata", "title=" + what.Title,
        "-c:v", "libx264", "-preset", "superfast", "-tune", "stillimage", "-bf", "0", "-crf", "20", "-x264-params", "scenecut=0:rc-lookahead=0:mbtree=0:chroma-qp-offset=-6", "-g", Number(5 * ScreenLayout.FramesPerSecond), "-pix_fmt", "yuv420p",
        "-color_range", "tv", "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709",
        "-c:a", "aac", "-b:a", "160k", "-movflags", "+faststart", "-f", "mp4", "file:" + what.Target,
    ];

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    private Problem Explain(int code, string text)
    {
        if (UnknownEncoder().Match(text) is { Success: true } missing)
            return new("ffmpeg", $"this ffmpeg has no encoder '{missing.Groups[1].Value}'.", "Install a build with libx264 and aac; 'ffmpeg -encoders' lists what one has.", Severity.Error);
        if (stalled) return new("ffmpeg", $"it took nothing more for {patience.TotalSeconds:0} s and was ended; no film was written.", "Try again when the machine is less busy.", Severity.Error);
        var line = text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).FirstOrDefault() ?? "";
        if (line.Length > 160) line = line[..160] + "…";
        var quoted = line.Length == 0 ? "" : $", saying \"{new string([.. line.Where(c => !char.IsControl(c))])}\"";
        return new("ffmpeg", $"it ended with exit code {code}{quoted}; no film was written.", "See that there is room on the disk and that ffmpeg works by itself, then try again.", Severity.Error);
    }

    private void CloseInput()
    {
        try
        {
            input.Dispose();
        }
        catch (IOException)
        {
            broken = true;
        }
    }

    private void Stop(bool isStalled)
    {
        stalled |= isStalled;
        try
        {
            if (!process.HasExited) process.Kill(entireProcessTree: true);
        }
        catch (Exception e) when (e is InvalidOperationException or Win32Exception or NotSupportedException)
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

    [GeneratedRegex("Unknown encoder '([^']+)'")]
    private static partial Regex UnknownEncoder();
}
