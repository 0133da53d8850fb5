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
/// <param name="Heard">What was heard.</param>
/// <param name="Diagnosis">What it means.</param>
/// <param name="Report">The same in words and pictures.</param>
public sealed record HeardTake(Store.Take Stored, PlannedPiece Piece, Core.Listening.Take Heard, Diagnosis Diagnosis, ReportText Report);

/// <summary>Listens to recordings, and remembers those asked for last.</summary>
internal sealed class HeardTakes(Takes takes, TakeFiles files, PlannedPieces planned)
{
    private const int Kept = 4;
    private readonly Lock gate = new();
    private readonly LinkedList<(string Key, Outcome<HeardTake> Value)> memory = new();

    /// <summary>One take.</summary>
    /// <returns>Null where there is none; problems where its file or its piece cannot be used.</returns>
    public Outcome<HeardTake>? Of(long id)
    {
        if (takes.Find(id) is not { } take) return null;
        if (planned.Of(take.Piece, take.Settings) is not { } piece) return Outcome<HeardTake>.Failed("the piece", "was removed.", "Bring it back to hear its recordings.");
        if (!piece.Succeeded) return Outcome<HeardTake>.Failed(piece.Problems);
        var key = $"{id} {take.Seconds} {piece.Value.Stamp}";
        lock (gate)
        {
            // One at a time: a second request for the same take waits for the first and finds it here.
            var known = memory.FirstOrDefault(m => m.Key == key);
            if (known.Value is not null) return known.Value;
            var made = Hear(take, piece.Value);
            memory.AddFirst((key, made));
            while (memory.Count > Kept) memory.RemoveLast();
            return made;
        }
    }

    private Outcome<HeardTake> Hear(Store.Take take, PlannedPiece piece)
    {
        var opened = SoundFile.Open(files.PathOf(take));
        if (!opened.Succeeded) return Outcome<HeardTake>.Failed(opened.Problems);
        using var sound = opened.Value;
        var plan = piece.Plan;
        var ear = new LiveEar(sound.Rate, expected: Listener.PitchesOf(plan));
        var block = new float[1 << 15];
        for (var read = sound.Read(block); read > 0; read = sound.Read(block)) ear.Push(block.AsSpan(0, read));
        var heard = Listener.Listen(ear, plan).Completed();
        heard = heard with { Problems = [.. sound.Problems, .. heard.Problems] };
        var diagnosis = Diagnostician.Judge(heard, plan);
        var report = ReportText.Of(heard, diagnosis, plan, new ReportHeading(piece.Stored.Title, take.Name));
        takes.Told(take.Id, report.Troubles.Length, diagnosis.Summary.Overall);
        return Outcome<HeardTake>.Of(new HeardTake(take, piece, heard, diagnosis, report));
    }
}
