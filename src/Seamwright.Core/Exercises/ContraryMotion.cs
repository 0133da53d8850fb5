using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Natural slurs with the slide against the pitch: up while it goes out, down while it comes in.</summary>
internal static class ContraryMotion
{
    public static readonly ExerciseKind Kind = new(
        "contrary", "natural slurs in contrary motion: the pitch goes up while the slide goes out, and the other way round",
        [nameof(ExerciseOrder.Register), nameof(ExerciseOrder.Valve)], Make);

    private static readonly string[] Ways = ["one position", "two positions", "three positions", "four positions", "five positions"];
    private const int MostCells = 6;
    private const double Slow = 60;
    private const double Fast = 100;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var side = order.Valve is { } name ? HornValves.Find(pupil.Instrument, name) : pupil.Instrument.Open;
        if (side is null) return Outcome<ExerciseSet>.Failed("valve", $"{pupil.Instrument.Id} has no valve '{order.Valve}'.", HornValves.Offers(pupil.Instrument));
        var drafts = Enumerable.Range(1, Ways.Length).Select(way => Draft(order, pupil, side, way)).OfType<ExerciseDraft>().ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("contrary", "no contrary motion lies in this pupil's range and reach.", "Choose a higher level or a further position.")
            : Drafts.FinishSeries(drafts, pupil);
    }

    private static ExerciseDraft? Draft(ExerciseOrder order, Pupil pupil, Side side, int way)
    {
        var all = Cells(pupil, side, way);
        if (order.Valve is null) all = Places.Of(pupil, all, c => c.Upper.Setting);
        var cells = Chosen(all, pupil, order.Register ?? Register.Middle);
        if (cells.Count == 0) return null;
        var positions = Ways[way - 1];
        var draft = new ExerciseDraft
        {
            Id = $"contrary-{HornValves.Slug(side)}-{(order.Register ?? Register.Middle).ToString().ToLowerInvariant()}-{way}",
            Kind = Kind.Name,
            Title = $"Against the pitch{HornValves.Words(side)}{InRegister(order)}: the slide moves {positions}",
            Purpose = $"The note goes up while the slide goes out by {positions}, and down while it comes in. The partial breaks by itself, so no tongue is needed however far the arm goes.",
            Practice =
            [
                "First move the slide without playing, then play: the arm goes out on the way up.",
                "Keep the air steady and leave the tongue out; the new note speaks because the partial changes.",
                "If you hear the slide before the note jumps, wait longer and move faster.",
            ],
            Part = Write(cells),
            Tempos = [Slow],
        };
        return draft.Climb(pupil, order.Tempos, Slow, TempoLadder.For(pupil, Fast));
    }

    // Where the teacher named one.
    public static string InRegister(ExerciseOrder order) => order.Register switch
    {
        null => "",
        Register.All => ", all registers",
        var one => $", {one.ToString()!.ToLowerInvariant()} register",
    };

    /// <summary>All pairs of neighbouring partials whose change is contrary motion over so many semitones of the tube.</summary>
    private static List<(PlacedNote Lower, PlacedNote Upper)> Cells(Pupil pupil, Side side, int way)
    {
        var cells = new List<(PlacedNote, PlacedNote)>();
        for (var partial = 2; partial < pupil.Instrument.HighestPartial; partial++)
        {
            for (var semitone = 0; semitone + way <= 7; semitone++)
            {
                if (PlacedNote.At(pupil, side, partial, semitone) is not { } lower || PlacedNote.At(pupil, side, partial + 1, semitone + way) is not { } upper) continue;
                if (lower.To(upper, pupil.Instrument) == Separation.Contrary && upper.To(lower, pupil.Instrument) == Separation.Contrary) cells.Add((lower, upper));
            }
        }

        return cells;
    }

    // On each pair of partials the nearest and the furthest place; of those the ones that lie best in the register, from low to high.
    private static List<(PlacedNote Lower, PlacedNote Upper)> Chosen(List<(PlacedNote Lower, PlacedNote Upper)> all, Pupil pupil, Register register)
    {
        double Height((PlacedNote Lower, PlacedNote Upper) c) => (c.Lower.Pitch.Midi + c.Upper.Pitch.Midi) / 2.0;
        var centre = register switch
        {
            Register.Low => pupil.Lowest.Midi,
            Register.High => pupil.Highest.Midi,
            _ => (pupil.Lowest.Midi + pupil.Highest.Midi) / 2.0,
        };
        var ends = all.GroupBy(c => c.Lower.Setting.Partial).SelectMany(g => new[] { g.First(), g.Last() }.Distinct()).ToList();
        var few = register == Register.All ? ends : [.. ends.OrderBy(c => Math.Abs(Height(c) - centre)).ThenBy(c => c.Lower.Pitch.Midi).Take(MostCells)];
        return [.. few.OrderBy(c => c.Lower.Setting.Partial).ThenBy(c => c.Lower.Setting.Semitone)];
    }

    private static Part Write(List<(PlacedNote Lower, PlacedNote Upper)> cells)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var group in cells.GroupBy(c => c.Lower.Setting.Partial))
        {
            pen.Section($"{Ordinals.Of(group.Key)} and {Ordinals.Of(group.Key + 1)} partial");
            foreach (var (lower, upper) in group)
            {
                var line = SlurCells.Spelled([lower, upper, lower, upper, lower]);
                pen.Slurred(line, Beats.Quarter, (_, _) => ChangeIntent.NaturalSlur);
            }
        }

        return pen.Finish();
    }
}
