using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Measures the notes and changes of one pass at the line.</summary>
internal sealed class AttemptMeter
{
    private const double Hop = LiveEar.Hop;

    // Beyond a note's stretch of frames its edge is looked for no further, less far where no pitch is heard: other sound may be as loud.
    private const double EdgeBeyond = 0.1;
    private const double UnpitchedEdge = 0.02;

    private readonly Plan plan;
    private readonly RoughTrack track;
    private readonly SampleStore samples;
    private readonly ListeningSettings settings;
    private readonly NoteMeter noteMeter;
    private readonly ChangeMeter changeMeter;
    private readonly double[] written;
    private readonly DamageMarks damage;

    /// <param name="sound">The whole recording.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="settings">How to listen.</param>
    /// <param name="room">How the room answers.</param>
    public AttemptMeter(HeardSound sound, Plan plan, ListeningSettings settings, RoomAnswer room)
    {
        (this.plan, this.settings, track, samples) = (plan, settings, sound.Track, sound.Samples);
        noteMeter = new NoteMeter(samples, track, settings.EarWindow.Value);
        changeMeter = new ChangeMeter(samples, settings, room);
        damage = new DamageMarks(sound.Damage);
        written = [.. plan.Notes.Select(n => n.Note.Pitch.Frequency(plan.Instrument.A4).Value)];
    }

    /// <summary>The figures, and the fitted ways of the pitch.</summary>
    public (Attempt Attempt, ImmutableArray<FittedGlide> Glides, ImmutableArray<PitchWay> Ways) Measure(FoundAttempt found)
    {
        var pitches = written.Select(p => p * Math.Pow(2, found.Transposition / 12.0)).ToArray();
        var steady = found.Stretches.Select((x, i) => x is { } s ? noteMeter.Measure(s, pitches[i]) : null).ToArray();
        var measured = plan.Changes.Select(c => ChangeOf(c, found, steady)).ToList();
        var changes = measured.Select(m => m.Heard).ToImmutableArray();
        var notes = plan.Notes.Select((n, i) => NoteOf(n, i, found.Stretches, steady[i], changes, pitches[i])).ToImmutableArray();
        notes = VibratoCentre.Added(notes, steady, track);
        if (found.Transposition == 0) (notes, changes) = (PlayedSettings.Guess(plan, notes, changes), Leads.Add(plan, notes, changes));
        notes = WrongNotes.Added(plan, notes, found);
        (notes, changes) = damage.Added(plan, notes, changes);
        var onsets = notes.Where(n => n.Onset is not null).Select(n => (plan.Notes[n.Index].Note.StartTime.Value, n.Onset!.Value.Value)).ToList();
        var attempt = new Attempt
        {
            Start = notes.FirstOrDefault(n => n.Found)?.Onset ?? new(found.From * Hop),
            End = notes.LastOrDefault(n => n.Found)?.Offset ?? new(found.To * Hop),
            Notes = notes,
            Changes = changes,
            Transposition = found.Transposition,
            TempoRatio = Alignment.Ratio(onsets) is { } ratio ? 1 / ratio : null,
        };
        return (attempt, [.. measured.Select(m => m.Glide).OfType<FittedGlide>()], [.. measured.Select(m => m.Way).OfType<PitchWay>()]);
    }

    private (HeardChange Heard, FittedGlide? Glide, PitchWay? Way) ChangeOf(NoteChange change, FoundAttempt found, SteadyNote?[] steady)
    {
        var (a, b) = (steady[change.FromNote], steady[change.ToNote]);
        if (a is not { } from || b is not { } to) return (new HeardChange { Index = change.Index, Found = false }, null, null);
        var (heard, glide, way) = changeMeter.Measure(plan, change, from, to, found.Stretches[change.ToNote]!.Value.From * Hop);

        // In another key the arm does something else than planned.
        return (found.Transposition == 0 ? heard : heard with { Arm = null }, glide, way);
    }

    private HeardNote NoteOf(PlannedNote planned, int i, Stretch?[] stretches, SteadyNote? measured, ImmutableArray<HeardChange> changes, double hz)
    {
        if (stretches[i] is not { } stretch || measured is not { } note) return new HeardNote { Index = i, Pitch = planned.Note.Pitch, Found = false };
        var before = i > 0 ? Seam(i - 1, changes, 1) : null;
        var after = i < changes.Length ? Seam(i, changes, -1) : null;
        var edge = note.Db - settings.OnsetBelowNote.Value;
        var heard = new HeardNote
        {
            Index = i,
            Pitch = planned.Note.Pitch,
            Found = true,
            Onset = new(before ?? Edge(stretch.From, edge, -1, note.Hz, Before(stretches, i)?.To ?? 0)),
            Offset = new(after ?? Edge(stretch.To - 1, edge, 1, note.Hz, (After(stretches, i)?.From ?? track.Count) - 1)),
            Cents = new(1200 * Math.Log2(note.Hz / hz)),
            Level = new(note.Db),
        };
        return ToneReader.Add(heard, note, track, samples);
    }

    private static Stretch? Before(Stretch?[] stretches, int i)
    {
        for (i--; i >= 0; i--)
        {
            if (stretches[i] is { } s) return s;
        }

        return null;
    }

    private static Stretch? After(Stretch?[] stretches, int i)
    {
        for (i++; i < stretches.Length; i++)
        {
            if (stretches[i] is { } s) return s;
        }

        return null;
    }

    // Joined notes give way to each other where the pitch is half way, or where the tongue touches; with the air stopped for long enough to be heard each has its own
    // edge, wherever the pitch has turned. Where an echo leaves the pitch's way in doubt the old note lingers in it: then the earlier sign is the nearer one.
    private double? Seam(int i, ImmutableArray<HeardChange> changes, int side)
    {
        const double Doubtful = 0.03;
        const double HeardStop = 0.01;
        var change = changes[i];
        if (!change.Found || (change.Gap?.Value > 0 && plan.Changes[i].Kind == ChangeKind.Breath)) return null;
        if (change.Gap?.Value > 0 && change.EarGap?.Value >= HeardStop) return change.DipCentre is { } middle ? middle.Value + (side * change.Gap.Value.Value / 2) : null;
        if (change.GlideCentre is not { } half) return change.DipCentre?.Value;
        var doubt = change.GlideCentreBounds is { } b ? (b.High - b.Low).Value / 2 : 0;
        return doubt > Doubtful && change.DipCentre is { } dip ? Math.Min(half.Value, dip.Value) : half.Value;
    }

    // Where the level passes the note's edge, searched from inside the note: outward, not into a neighbour, while it is loud and no
    // other pitch sounds, else inward.
    private double Edge(int frame, double edge, int outward, double hz, int last)
    {
        var i = Math.Clamp(frame, 0, track.Count - 1);
        var (pitched, unpitched) = (i + (outward * (int)(EdgeBeyond / Hop)), i + (outward * (int)(UnpitchedEdge / Hop)));
        if (track.Db[i] >= edge)
            while (i != last && i != pitched && track.Db[i + outward] >= edge && !IsOther(track.Hz[i + outward], hz, (i - unpitched) * outward >= 0)) i += outward;
        else
            while (i - outward >= 0 && i - outward < track.Count && track.Db[i] < edge) i -= outward;
        return i * Hop;
    }

    private static bool IsOther(double heard, double hz, bool noneIsOther) => heard > 0 ? Math.Abs(Math.Log2(heard / hz)) > 0.05 : noneIsOther;
}
