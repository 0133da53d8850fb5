using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Planning;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>The way of the pitch at one change, as it was made.</summary>
/// <param name="Index">Of the change.</param>
/// <param name="Shape">none over a rest.</param>
/// <param name="Start">The pitch leaves the first note.</param>
/// <param name="End">It has arrived.</param>
/// <param name="Time">Where one note gives way to the other.</param>
/// <param name="CaughtHertz">A wrong partial on the way.</param>
/// <param name="OnOnePartial">Whether it slid all the way.</param>
internal readonly record struct PitchMove(int Index, string Shape, double Start, double End, double Time, double? CaughtHertz, bool OnOnePartial);

/// <summary>Puts a take's truth together from its exact curves.</summary>
internal static class TruthMaker
{
    private const double LeastOctaves = 0.3 / 12, Settling = 0.32;

    public static TruthFile Of(TakeOrder order, Plan plan, ImmutableArray<TruthNote> notes, ImmutableArray<PitchMove> moves, Curves curves)
    {
        var reader = new ChangeReader(curves);
        ImmutableArray<TruthChange> changes = [.. moves.Select(m => reader.Read(Known(plan, notes, m, curves)))];
        var truth = new TruthFile
        {
            Name = order.Name,
            Source = order.Source,
            Condition = "clean",
            Part = order.PartFile,
            Instrument = order.InstrumentId,
            TempoRatio = order.TempoRatio,
            DurationSeconds = Math.Round(curves.Count * Curves.Step, 4),
            Notes = WithSeams(notes, changes),
            Changes = changes,
        };
        var verdicts = TruthTake.Verdicts(truth, plan);
        return truth with { Changes = [.. changes.Select(c => c with { Verdicts = [.. verdicts[c.Index].Select(v => v.WireName()).Order(StringComparer.Ordinal)] })] };
    }

    private static KnownChange Known(Plan plan, ImmutableArray<TruthNote> notes, PitchMove move, Curves curves)
    {
        var (a, b) = (notes[move.Index], notes[move.Index + 1]);
        var way = move.Shape == "none" || move.CaughtHertz is not null ? null : WayOf(move, curves);
        return new KnownChange
        {
            BeforeDb = a.LevelDb,
            AfterDb = b.LevelDb,
            From = Settled(plan, a, move),
            To = (b.Onset + b.Offset) / 2,
            Hertz = (a.Hertz, b.Hertz),
            Way = way is { } w ? (w.Ten, w.Ninety) : null,
            Change = new TruthChange
            {
                Index = move.Index,
                Kind = plan.Changes[move.Index].Kind.WireName(),
                FromMidi = a.Midi,
                ToMidi = b.Midi,
                Time = Math.Round(move.Time, 6),
                Shape = move.Shape,
                MoveStart = Math.Round(move.Shape == "none" ? move.Time : move.Start, 6),
                MoveEnd = Math.Round(move.Shape == "none" ? move.Time : move.End, 6),
                Glide10to90Ms = way is { } g ? Math.Round(1000 * (g.Ninety - g.Ten), 4) : null,
                GlideCentre = way is { } c ? Math.Round(c.Centre, 6) : null,
                GlideSemitones = way is not null && move.OnOnePartial ? Math.Round(12 * Math.Log2(b.Hertz / a.Hertz), 4) : null,
                CaughtHertz = move.CaughtHertz,
            },
        };
    }

    // From the middle of the note before; where it begins a phrase, not before its attack is over.
    private static double Settled(Plan plan, TruthNote before, PitchMove move)
    {
        var middle = (before.Onset + before.Offset) / 2;
        var begins = move.Index == 0 || plan.Changes[move.Index - 1].Kind == ChangeKind.Breath;
        return begins ? Math.Max(middle, Math.Min(before.Onset + Settling, move.Time - 0.05)) : middle;
    }

    // The way proper: from where it last leaves the first tenth to where it first reaches the last one.
    private static (double Ten, double Centre, double Ninety)? WayOf(PitchMove move, Curves curves)
    {
        var (a, b) = (Math.Log2(curves.Hertz(move.Start)), Math.Log2(curves.Hertz(move.End)));
        if (Math.Abs(b - a) < LeastOctaves) return null;
        const double Grid = 2e-5;
        var ninety = move.Start;
        while (ninety < move.End && Share(ninety) < 0.9) ninety += Grid;
        var centre = Back(0.5, ninety);
        return (Back(0.1, centre), centre, ninety);

        double Share(double t) => (Math.Log2(curves.Hertz(t)) - a) / (b - a);

        double Back(double share, double from)
        {
            var t = from;
            while (t > move.Start && Share(t) > share) t -= Grid;
            return t;
        }
    }

    // Joined notes give way to each other where the pitch is half way; where the air stopped long enough to be heard, each has its own edge.
    private static ImmutableArray<TruthNote> WithSeams(ImmutableArray<TruthNote> notes, ImmutableArray<TruthChange> changes)
    {
        var list = notes.ToArray();
        foreach (var c in changes)
        {
            if (c.Kind == "breath") continue;
            var stopped = c.Ear.GapMs >= 10 && c.GapMs is not null && c.DipCentre is not null;
            var half = stopped ? c.GapMs!.Value / 2000 : 0;
            var middle = stopped ? c.DipCentre!.Value : c.GlideCentre ?? c.DipCentre ?? c.Time;
            list[c.Index] = list[c.Index] with { Offset = Math.Round(middle - half, 6) };
            list[c.Index + 1] = list[c.Index + 1] with { Onset = Math.Round(middle + half, 6) };
        }

        return [.. list];
    }
}
