using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Planning;

namespace Seamwright.Cli.Input;

/// <summary>A recording, measured and judged.</summary>
/// <param name="Plan">What was asked.</param>
/// <param name="Take">What was heard.</param>
/// <param name="Diagnosis">What it means.</param>
internal sealed record HeardTake(Plan Plan, Take Take, Diagnosis Diagnosis)
{
    /// <summary>Listens while the file is read, and judges; problems of the file are carried into the take.</summary>
    /// <param name="sound">Open, at its beginning.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="attempt">Which pass at the line to tell, from 1; null, or where there is no such pass, for the fullest.</param>
    /// <param name="shown">Whether the track is shown or written, moment by moment.</param>
    public static HeardTake Of(SoundStream sound, Plan plan, int? attempt = null, bool shown = true)
    {
        var ear = new LiveEar(sound.Rate, expected: Listener.PitchesOf(plan));
        Fill(ear, sound);
        TidyAfter(ear);
        var take = Listener.Listen(ear, plan, ListeningSettings.Default with { FollowWays = shown });
        TidyAfter(ear);
        take = attempt is { } n && n <= take.Attempts.Length ? take.Told(n - 1) : take.Completed();
        take = take with { Problems = [.. sound.Problems, .. take.Problems] };
        return new HeardTake(plan, take, Diagnostician.Judge(take, plan));
    }

    /// <summary>As the other, without a part.</summary>
    public static HeardTake Of(SoundStream sound, Instrument instrument)
    {
        var ear = new LiveEar(sound.Rate);
        Fill(ear, sound);
        TidyAfter(ear);
        var free = FreeListener.Listen(ear, instrument);
        var take = free.Take with { Problems = [.. sound.Problems, .. free.Take.Problems] };
        return new HeardTake(free.Plan, take, Diagnostician.Judge(take, free.Plan));
    }

    /// <summary>Why nothing can be told; null where at least one note was heard.</summary>
    /// <param name="name">Of the recording.</param>
    public Problem? Nothing(string name) => Take.Notes.Any(n => n.Found) ? null : Plan.Line.FromRecording
        ? new(name, "no notes are heard in it, so nothing is told or written.", "Check the microphone and its level, and that the right file was named.", Severity.Error)
        : new(name, "none of the part's notes are heard in it, so nothing is told or written.", "Check the recording, and that the part and the instrument are those that were played.", Severity.Error);

    /// <summary>Why an attempt cannot be told; null where it can.</summary>
    /// <param name="name">Of the recording.</param>
    /// <param name="attempt">From 1; null where none was asked for.</param>
    public Problem? NoSuchAttempt(string name, int? attempt) => attempt is not { } n || n <= Take.Attempts.Length ? null : new(
        name,
        $"holds {(Take.Attempts.Length == 1 ? "1 attempt" : $"{Take.Attempts.Length} attempts")} at the line, so there is no attempt {n}.",
        Take.Attempts.Length == 1 ? "Leave --attempt out." : $"Name --attempt 1 to {Take.Attempts.Length}, or leave it out for the fullest one.",
        Severity.Error);

    // The collector sees no reason to give back what the step before needed while memory is left; of an hour that is 50 MB.
    private static void TidyAfter(LiveEar ear)
    {
        const double Long = 600; // seconds
        if (ear.Heard.Value >= Long) GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
    }

    private static void Fill(LiveEar ear, SoundStream sound)
    {
        var block = new float[1 << 15];
        for (var read = sound.Read(block); read > 0; read = sound.Read(block)) ear.Push(block.AsSpan(0, read));
        ear.MarkDamaged(sound.Damage);
    }

    public void WriteJson(Stream stream) => TakeJson.Write(Take, Diagnosis, Plan, stream);

    /// <summary>For a screen, with the first remarks only.</summary>
    public void WriteText(TextWriter writer) => TakeText.Write(Take, Diagnosis, Plan, writer, "-o FILE writes them all");

    /// <summary>For a file, whole.</summary>
    public void WriteText(Stream stream)
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        TakeText.Write(Take, Diagnosis, Plan, writer);
    }

    public void WriteTrack(string path) => Files.Write(path, stream =>
    {
        using var writer = new StreamWriter(stream, leaveOpen: true);
        TrackCsv.Write(Take.Track, writer);
    });
}
