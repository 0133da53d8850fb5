using System.ComponentModel;
using System.Diagnostics;
using System.Text;

namespace Seamwright.Tests;

/// <summary>A program of the system, run to its end without a shell. It gets nothing from our own input, and never longer than <see cref="Longest"/>.</summary>
internal static class OutsideProgram
{
    /// <summary>No file of these tests takes a program so long, on a busy machine neither.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromMinutes(3);

    public static bool IsInstalled(string program)
    {
        try
        {
            Finish(new ProcessStartInfo(program, "-v"), "", Longest);
            return true;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }

    /// <summary>Skips the test where it is not installed.</summary>
    /// <param name="program">Its name or path.</param>
    /// <param name="arguments">Each as it is.</param>
    public static Ran Run(string program, params IEnumerable<string> arguments) => Run(new ProcessStartInfo(program, arguments));

    /// <summary>Skips the test where it is not installed.</summary>
    /// <param name="how">Program, arguments, folder and environment; where its text goes is set here.</param>
    /// <param name="input">What it reads.</param>
    /// <param name="longest">After this it is ended, with <see cref="TimeoutException"/>.</param>
    public static Ran Run(ProcessStartInfo how, string input = "", TimeSpan? longest = null)
    {
        try
        {
            return Finish(how, input, longest ?? Longest);
        }
        catch (Win32Exception)
        {
            Assert.Skip($"reason: {how.FileName} is not installed.");
            throw;
        }
    }

    private static Ran Finish(ProcessStartInfo how, string input, TimeSpan longest)
    {
        (how.RedirectStandardInput, how.RedirectStandardOutput, how.RedirectStandardError) = (true, true, true);
        (how.StandardInputEncoding, how.StandardErrorEncoding) = (new UTF8Encoding(false), Encoding.UTF8);
        using var process = Process.Start(how)!;
        using var watch = new CancellationTokenSource(longest);
        using var end = watch.Token.Register(() => process.Kill(entireProcessTree: true));
        var error = process.StandardError.ReadToEndAsync(CancellationToken.None);
        var fed = Feed(process.StandardInput, input);
        using var output = new MemoryStream();
        process.StandardOutput.BaseStream.CopyTo(output);
        process.WaitForExit();
        fed.Wait(CancellationToken.None);
        if (watch.IsCancellationRequested) throw new TimeoutException($"{how.FileName} did not end within {longest.TotalSeconds} s.");
        return new(process.ExitCode, output.ToArray(), error.Result);
    }

    private static async Task Feed(StreamWriter to, string input)
    {
        try
        {
            await to.WriteAsync(input);
            to.Close();
        }
        catch (IOException)
        {
            // It ended without reading all.
        }
    }

    /// <summary>How it ended and what it wrote.</summary>
    public sealed record Ran(int Code, byte[] Output, string Error)
    {
        public string Text => Encoding.UTF8.GetString(Output);

        /// <summary>Itself, where the program says that all went well.</summary>
        public Ran Well()
        {
            Assert.True(Code == 0, $"exit code {Code}: {Error}");
            return this;
        }
    }
}
