using System.Diagnostics;
using System.Globalization;
using Seamwright.Core;

namespace Seamwright.Studio.Serving;

/// <summary>Work that takes longer than a page should: it shows how far it is, and can be stopped.</summary>
/// <param name="id">In its address.</param>
/// <param name="title">What is done, for instance <c>Printing the book</c>.</param>
/// <param name="from">The page it was begun on.</param>
public sealed class Work(long id, string title, string from) : IDisposable
{
    private readonly CancellationTokenSource stop = new();
    private double share;

    public long Id { get; } = id;

    public string Title { get; } = title;

    public string From { get; } = from;

    /// <summary>0 to 1.</summary>
    public double Share => Volatile.Read(ref share);

    /// <summary>Ends when the work does, never with an exception.</summary>
    public Task<WorkEnd> End { get; private set; } = Task.FromResult(new WorkEnd());

    public void Stop() => stop.Cancel();

    public void Dispose() => stop.Dispose();

    /// <summary>Begins; called once.</summary>
    /// <param name="run">Gets what tells how far it is, and throws once the work is to stop; and the token.</param>
    internal void Begin(Func<Action<double>, CancellationToken, Task<WorkEnd>> run) => End = Task.Run(async () =>
    {
        try
        {
            return await run(Tell, stop.Token);
        }
        catch (OperationCanceledException)
        {
            return new WorkEnd { Stopped = true };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidOperationException)
        {
            return new WorkEnd { Problems = [new(Title, e.Message, "Try again.", Severity.Error)] };
        }
    });

    private void Tell(double done)
    {
        stop.Token.ThrowIfCancellationRequested();
        Volatile.Write(ref share, done);
    }
}

/// <summary>How work ended.</summary>
public sealed record WorkEnd
{
    /// <summary>Where the reader goes; null where a file was made.</summary>
    public string? Url { get; init; }

    /// <summary>A finished file; null for none.</summary>
    public WorkFile? File { get; init; }

    /// <summary>Whether it was stopped before its end.</summary>
    public bool Stopped { get; init; }

    /// <summary>Why it could not be done; empty where it could.</summary>
    public IReadOnlyList<Problem> Problems { get; init; } = [];
}

/// <summary>A file that work has made.</summary>
/// <param name="Path">In the folder of the works.</param>
/// <param name="Type">Media type.</param>
/// <param name="Name">As the reader gets it.</param>
public sealed record WorkFile(string Path, string Type, string Name);

/// <summary>All work of this run of the server. What it made goes away with the server, and the oldest of it sooner.</summary>
internal sealed class Works : IDisposable
{
    private const int Kept = 6;

    // A page that is there at once needs no bar.
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(400);

    // A step of any work is shorter.
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(20);

    private readonly Lock gate = new();
    private readonly List<Work> all = [];
    private const string Prefix = "seamwright-work-";

    private readonly Lazy<string> folder = new(() => Directory.CreateTempSubdirectory($"{Prefix}{Environment.ProcessId}-").FullName);
    // Each run of the server counts from elsewhere: an old address never shows other work.
    private long last = 1000L * System.Security.Cryptography.RandomNumberGenerator.GetInt32(1, 1_000_000);

    public Works() => ClearAway();

    // A server that was killed leaves its folder behind; a pupil's book may lie in it.
    internal static void ClearAway()
    {
        foreach (var left in Directory.EnumerateDirectories(Path.GetTempPath(), Prefix + "*"))
        {
            if (!int.TryParse(Path.GetFileName(left)[Prefix.Length..].Split('-')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var owner) || IsRunning(owner)) continue;
            try
            {
                Directory.Delete(left, recursive: true);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // Another user's, or being cleared away by another server: it is not ours to mind.
            }
        }
    }

    private static bool IsRunning(int process)
    {
        try
        {
            using var found = Process.GetProcessById(process);
            return !found.HasExited;
        }
        catch (ArgumentException)
        {
            return false;
        }
    }

    /// <summary>Where work puts what it needs on its way; it goes away with the server.</summary>
    public string Folder => folder.Value;

    /// <summary>A path for a file that work makes.</summary>
    /// <param name="ending">With its dot.</param>
    public string NewFile(string ending) => Path.Combine(folder.Value, Path.GetRandomFileName() + ending);

    /// <summary>Begins work, and waits a moment in case it is done at once.</summary>
    /// <param name="title">What is done.</param>
    /// <param name="from">The page it was begun on.</param>
    /// <param name="run">Gets what tells how far it is, and the token that stops it.</param>
    public async Task<Work> Begin(string title, string from, Func<Action<double>, CancellationToken, Task<WorkEnd>> run)
    {
        Work work;
        List<Work> old;
        lock (gate)
        {
            work = new Work(++last, title, from);
            all.Add(work);
            old = [.. all.Take(Math.Max(0, all.Count - Kept)).Where(w => w.End.IsCompleted)];
            foreach (var o in old) all.Remove(o);
        }

        foreach (var o in old) Drop(o);
        work.Begin(run);
        await Task.WhenAny(work.End, Task.Delay(Patience));
        return work;
    }

    /// <summary>Null where there is none any more.</summary>
    public Work? Find(long id)
    {
        lock (gate) return all.FirstOrDefault(w => w.Id == id);
    }

    public void Dispose()
    {
        // What still works uses things that are put away after this.
        foreach (var work in all) work.Stop();
        Task.WaitAll([.. all.Select(w => w.End)], LongestEnd);
        foreach (var work in all) work.Dispose();

        if (folder.IsValueCreated) Directory.Delete(folder.Value, recursive: true);
    }

    private static void Drop(Work work)
    {
        if (work.End.Result.File is { } file && File.Exists(file.Path)) File.Delete(file.Path);
        work.Dispose();
    }
}
