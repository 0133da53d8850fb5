using System.Collections.Immutable;
using System.ComponentModel;
using System.Diagnostics;
using System.Text;
using System.Text.Json;

namespace Seamwright.Engraving.Engines;

/// <summary>The engraver in a Node.js worker process, fed one JSON line a sheet; started at the first call and kept.</summary>
/// <param name="files">Where the engraver lies.</param>
/// <param name="node">The command that starts Node.js 18 or later.</param>
public sealed class NodeEngraver(EngraverFiles files, string node = "node") : IEngraver
{
    private static readonly TimeSpan AnswerLimit = TimeSpan.FromMinutes(5);
    private readonly Lock gate = new();
    private Process? worker;
    private bool disposed;

    /// <summary>Whether the command answers.</summary>
    public static bool IsInstalled(string node = "node")
    {
        try
        {
            using var process = Process.Start(Quiet(node, ["--version"]));
            process?.WaitForExit();
            return process?.ExitCode == 0;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }

    public ImmutableArray<string> Engrave(string mei, string options)
    {
        lock (gate)
        {
            ObjectDisposedException.ThrowIf(disposed, this);
            try
            {
                worker ??= Start();
                using var parsed = JsonDocument.Parse(options);
                var answer = Ask(worker, JsonSerializer.Serialize(new { mei, options = parsed.RootElement }));
                return PagesOf(answer);
            }
            catch (Exception e) when (e is IOException or EngravingException or JsonException or InvalidOperationException)
            {
                Drop();
                throw e as EngravingException ?? new EngravingException($"The engraving worker failed: {e.Message}", e);
            }
        }
    }

    public void Dispose()
    {
        lock (gate)
        {
            disposed = true;
            Drop();
        }
    }

    private static ImmutableArray<string> PagesOf(string answer)
    {
        using var document = JsonDocument.Parse(answer);
        return document.RootElement.TryGetProperty("pages", out var pages)
            ? [.. pages.EnumerateArray().Select(p => p.GetString() ?? "")]
            : throw new EngravingException($"The engraver gave up on this piece: {document.RootElement.GetProperty("error").GetString()}");
    }

    private static string Ask(Process process, string request)
    {
        process.StandardInput.Write(request + "\n");
        process.StandardInput.Flush();
        return Answer(process);
    }

    private static string Answer(Process process)
    {
        var line = process.StandardOutput.ReadLineAsync();
        if (!line.Wait(AnswerLimit)) throw new EngravingException("The engraving worker did not answer within 5 minutes.");
        return line.Result ?? throw new EngravingException("The engraving worker ended without an answer.");
    }

    private static ProcessStartInfo Quiet(string node, IEnumerable<string> arguments) => new(node, arguments)
    {
        RedirectStandardInput = true,
        RedirectStandardOutput = true,
        RedirectStandardError = true,
        StandardInputEncoding = new UTF8Encoding(false),
        StandardOutputEncoding = Encoding.UTF8,
        UseShellExecute = false,
        CreateNoWindow = true,
    };

    private Process Start()
    {
        var process = Launch();

        // Unread messages would fill the pipe and stop the worker.
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        Answer(process);
        return process;
    }

    private Process Launch()
    {
        try
        {
            return Process.Start(Quiet(node, [files.Script, files.Library])) ?? throw new EngravingException($"'{node}' did not start.");
        }
        catch (Win32Exception e)
        {
            throw new EngravingException($"Engraving on this system needs Node.js 18 or later, and '{node}' could not be started ({e.Message}). Install Node.js and see that 'node --version' answers.", e);
        }
    }

    private void Drop()
    {
        if (worker is not { } process) return;
        worker = null;
        if (!process.HasExited) process.Kill(entireProcessTree: true);
        process.Dispose();
    }
}
