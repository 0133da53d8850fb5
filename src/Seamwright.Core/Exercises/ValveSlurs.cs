using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The valve separates the notes while the slide stays, or nearly stays.</summary>
internal static class ValveSlurs
{
    public static readonly ExerciseKind Kind = new(
        "valve-slurs", "slurs that the valve makes while the slide stays or hardly moves", [nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Valve)], Make);

    // Half a position is 4 to 6 cm: a turn of the wrist, no way for the arm (proposed default).
    private const double Nearly = 0.5;
    private const int WidestSemitones = 7;
    private const int PerPlace = 2;

    // Of all registers, one pair below the middle and one above it; the ends of the range are no place for a first valve slur.
    private static readonly double[] Everywhere = [0.25, 0.75];
    private const double Slow = 60;
    private const double Fast = 104;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var valves = HornValves.Of(order, pupil);
        if (!valves.Succeeded) return Outcome<ExerciseSet>.Failed(valves.Problems);
        var drafts = valves.Value.Sides.SelectMany(side => new[] { Draft(order, pupil, side, still: true), Draft(order, pupil, side, still: false) }).OfType<ExerciseDraft>().ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("valve-slurs", "no valve slur with a still slide lies in this pupil's range and reach.", "Choose a higher level.")
            : Drafts.FinishSeries(drafts, pupil);
    }

    private static ExerciseDraft? Draft(ExerciseOrder order, Pupil pupil, Side side, bool still)
    {
        var cells = Cells(pupil, side, still, order.Register ?? Register.Middle, own: order.Valve is null);
        if (cells.Count == 0) return null;
        var draft = new ExerciseDraft
        {
            Id = $"valve-slurs-{HornValves.Slug(side)}-{(order.Register ?? Register.Middle).ToString().ToLowerInvariant()}-{(still ? "1-still" : "2-nearly-still")}",
            Kind = Kind.Name,
            Title = $"Valve slurs{HornValves.Words(side)}{ContraryMotion.InRegister(order)}: the slide {(still ? "stays" : "hardly moves")}",
            Purpose = still
                ? "Only the valve moves: it parts the notes by itself, clean and without the tongue, if thumb and air do their part. The number behind a valve's letter is the place of the hand, counted as on the open horn."
                : $"The valve parts the notes, and the slide makes way for the longer tubing by at most {Widest(cells):0.0} cm at the same moment. The number behind a valve's letter is the place of the hand, counted as on the open horn.",
            Practice =
            [
                "Press and let go of the valve quickly and quite through; a slow thumb makes a grunt.",
                "The air goes on as on one long note; no tongue after the first note of a slur.",
                still ? "Look at the slide: it does not shake when the valve moves." : "Slide and valve move together; look for the place by ear and keep it.",
            ],
            Part = Write(cells),
            Tempos = [Slow],
        };
        return draft.Climb(pupil, order.Tempos, Slow, TempoLadder.For(pupil, Fast));
    }

    private static double Widest(List<(PlacedNote Open, PlacedNote Valve)> cells) => cells.Max(c => Math.Abs((c.Open.Setting.Travel - c.Valve.Setting.Travel).Value));

    // In each position of the open horn the two closest pairs nearest to the register's middle; of all registers the closest one in each half.
    private static List<(PlacedNote Open, PlacedNote Valve)> Cells(Pupil pupil, Side side, bool still, Register register, bool own)
    {
        var (open, valve) = (Notes(pupil, pupil.Instrument.Open, own), Notes(pupil, side, own));
        return [.. open.SelectMany(o => valve.Select(v => (Open: o, Valve: v)))
            .Where(c => c.Open.To(c.Valve, pupil.Instrument) == Separation.Valve && Math.Abs(c.Open.Pitch.Midi - c.Valve.Pitch.Midi) is >= 1 and <= WidestSemitones && IsWithin(c, still))
            .GroupBy(c => c.Open.Setting.Semitone).OrderBy(g => g.Key)
            .SelectMany(g => register switch
            {
                Register.Low => Nearest(g, 0, PerPlace),
                Register.High => Nearest(g, 1, PerPlace),
                Register.All => Everywhere.SelectMany(share => Nearest(g, share, 1)).Distinct(),
                _ => Nearest(g, 0.5, PerPlace),
            })];

        IEnumerable<(PlacedNote Open, PlacedNote Valve)> Nearest(IEnumerable<(PlacedNote Open, PlacedNote Valve)> pairs, double share, int count)
        {
            var centre = pupil.Lowest.Midi + (share * (pupil.Highest.Midi - pupil.Lowest.Midi));
            return pairs.OrderBy(c => Math.Abs(c.Open.Pitch.Midi - c.Valve.Pitch.Midi) + Math.Abs(((c.Open.Pitch.Midi + c.Valve.Pitch.Midi) / 2.0) - centre)).ThenBy(c => c.Open.Pitch.Midi).Take(count);
        }
    }

    private static bool IsWithin((PlacedNote Open, PlacedNote Valve) c, bool still)
    {
        var off = Math.Abs(c.Open.Setting.Position - c.Valve.Setting.Position);
        return still ? off <= Separations.StillWithin : off is > Separations.StillWithin and <= Nearly;
    }

    private static List<PlacedNote> Notes(Pupil pupil, Side side, bool own)
    {
        List<PlacedNote> all = [.. Enumerable.Range(2, pupil.Instrument.HighestPartial - 1).SelectMany(n => Enumerable.Range(0, 8).Select(k => PlacedNote.At(pupil, side, n, k))).OfType<PlacedNote>()];
        return own ? Places.Of(pupil, all, n => n.Setting) : all;
    }

    private static Part Write(List<(PlacedNote Open, PlacedNote Valve)> cells)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var group in cells.GroupBy(c => c.Open.Setting.Semitone))
        {
            pen.Section($"From {Ordinals.Of(group.Key + 1)} position");
            foreach (var (open, valve) in group)
                pen.Slurred(SlurCells.Spelled([open, valve, open, valve, open]), Beats.Quarter, (_, _) => ChangeIntent.NaturalSlur);
        }

        return pen.Finish();
    }
}
