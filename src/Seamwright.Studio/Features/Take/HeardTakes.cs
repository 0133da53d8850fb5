using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Listening;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Take;

/// <summary>A recording, measured and judged against what was asked when it was made.</summary>
/// <param name="Stored">Its card.</param>
/// <param name="Piece">What was asked.</param>
/// <param name="Attempt">Which attempt is told, from 1; null for the fullest.</param>
/// <param name="Heard">What was heard.</param>
/// <param name="Diagnosis">What it means.</param>
/// <param name="Report">The same in words and pictures.</param>
public sealed record HeardTake(Store.Take Stored, PlannedPiece Piece, int? Attempt, Core.Listening.Take Heard, Diagnosis Diagnosis, ReportText Report)
{
    /// <summary>Whether it is the piece that was played, whole or as far as it goes: otherwise nothing can be said about the playing.</summary>
    public bool IsRecognised => Diagnosis.IsRecognised;

    /// <summary>Whether any tone is in it.</summary>
    public bool HoldsTone => Heard.Track.Frames.Any(f => f.Pitch is not null);

    /// <summary>Address of something of this take and attempt; empty for its page.</summary>
    public string Url(string rest = "") => $"/takes/{Stored.Id}{(rest.Length > 0 ? $"/{rest}" : "")}{(Attempt is { } n ? $"?attempt={n}" : "")}";
}

/// <summary>Listens to recordings, and remembers those asked for last.</summary>
internal sealed class HeardTakes(Takes takes, TakeFiles files, PlannedPieces planned)
{
    private const int Kept = 4;

    // Reading and tracking a recording takes about so much of the whole.
    private const double Tracking = 0.85;

    private readonly Lock gate = new();
    private readonly LinkedList<(string Key, object Value)> measured = new(), judged = new();

    /// <summary>One take.</summary>
    /// <param name="id">Of the take.</param>
    /// <param name="attempt">Which attempt at the line, from 1; null for the fullest.</param>
    /// <param name="tell">Hears how far it is, 0 to 1; what it throws stops the listening. Null for nobody.</param>
    /// <returns>Null where there is none; problems where its file or its piece cannot be used, or it has no such attempt.</returns>
    public Outcome<HeardTake>? Of(long id, int? attempt = null, Action<double>? tell = null)
    {
        if (takes.Find(id) is not { } take) return null;
        var piece = PieceOf(take);
        if (!piece.Succeeded) return Outcome<HeardTake>.Failed(piece.Problems);
        lock (gate)
        {
            // One at a time: a second request for the same take waits for the first and finds it here.
            var key = KeyOf(take, piece.Value);
            var heard = (Outcome<Core.Listening.Take>)Remembered(measured, key, () => Measure(take, piece.Value, tell));
            return (Outcome<HeardTake>)Remembered(judged, $"{key} {attempt}", () => heard.Succeeded ? piece.Value.Naming.While(() => Judge(take, piece.Value, heard.Value, attempt)) : Outcome<HeardTake>.Failed(heard.Problems));
        }
    }

    /// <summary>Whether a take was listened to a moment ago, so that its page is there at once.</summary>
    public bool IsKnown(Store.Take take)
    {
        if (PieceOf(take) is not { Succeeded: true } piece) return true;
        lock (gate) return measured.Any(m => m.Key == KeyOf(take, piece.Value));
    }

    private Outcome<PlannedPiece> PieceOf(Store.Take take) =>
        planned.Of(take.Piece, take.Settings, evenRemoved: true) ?? Outcome<PlannedPiece>.Failed("the piece", "was removed.", "Bring it back to hear its recordings.");

    private static string KeyOf(Store.Take take, PlannedPiece piece) => $"{take.Id} {take.Seconds} {piece.Stamp}";

    private static object Remembered(LinkedList<(string Key, object Value)> memory, string key, Func<object> make)
    {
        var known = memory.FirstOrDefault(m => m.Key == key);
        if (known.Value is not null) return known.Value;
        var made = make();
        memory.AddFirst((key, made));
        while (memory.Count > Kept) memory.RemoveLast();
        return made;
    }

    private Outcome<Core.Listening.Take> Measure(Store.Take take, PlannedPiece piece, Action<double>? tell)
    {
        var opened = SoundFile.Open(files.PathOf(take));
        if (!opened.Succeeded) return Outcome<Core.Listening.Take>.Failed(opened.Problems);
        using var sound = opened.Value;
        var ear = new LiveEar(sound.Rate, expected: Listener.PitchesOf(piece.Plan));
        var block = new float[1 << 15];
        for (var read = sound.Read(block); read > 0; read = sound.Read(block))
        {
            ear.Push(block.AsSpan(0, read));
            tell?.Invoke(Math.Min(Tracking, Tracking * ear.Heard.Value / Math.Max(1, take.Seconds)));
        }

        ear.MarkDamaged(sound.Damage);
        var heard = Listener.Listen(ear, piece.Plan);
        return Outcome<Core.Listening.Take>.Of(heard with { Problems = [.. sound.Problems.Select(p => p with { Where = "the recording" }), .. heard.Problems] });
    }

    private Outcome<HeardTake> Judge(Store.Take take, PlannedPiece piece, Core.Listening.Take all, int? attempt)
    {
        if (attempt is { } n && (n < 1 || n > all.Attempts.Length))
            return Outcome<HeardTake>.Failed("attempt", $"the recording holds {all.Attempts.Length}, so there is no attempt {n}.", "Choose one of those.");
        var heard = attempt is { } wished ? all.Told(wished - 1) : all.Completed();
        var diagnosis = Diagnostician.Judge(heard, piece.Plan);
        var report = ReportText.Of(heard, diagnosis, piece.Plan, new ReportHeading(piece.Stored.Title, take.Name));
        var made = new HeardTake(take, piece, attempt, heard, diagnosis, report);
        if (attempt is null) takes.Told(take.Id, made.IsRecognised ? report.Troubles.Length : Store.Take.NotRecognised, diagnosis.Summary.Overall);
        return Outcome<HeardTake>.Of(made);
    }
}
