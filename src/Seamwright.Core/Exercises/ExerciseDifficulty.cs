using Seamwright.Core.Planning;

namespace Seamwright.Core.Exercises;

/// <summary>How hard an exercise is, 0 to 1, from its plan alone.</summary>
/// <remarks><para>D = 1 − (1 − C)(1 − 0.6·q)(1 − r). C = 0.7·h + 0.3·m with h the difficulty of the hardest change and m the mean over all changes that ask something
/// (<see cref="ChangeDifficulty"/>: arm speed, coordination of the kind, register). The hardest spot decides, the rest tires;
/// over a rest or breath nothing is joined and the arm has time, so those changes do not count.
/// q is the haste of the lips: 84 ms, what a lip change takes at most (horn trills; Iltis et al., Med. Probl. Perform. Art. 32 (2017) 209),
/// over the shortest time from note to note among natural slurs with a still slide, at most 1; where the slide moves, haste is in the arm's
/// speed already. r is the haste of the tongue: 120 ms, about as quick as a single tongue goes (sixteenths at ♩ = 125; proposed default), over the shortest time from
/// one touch to the next on one note, at most 1; from 400 ms on no tongue is in haste.</para>
/// <para>Level: the hardest of what the range asks (<see cref="Levels.OfRange"/>), what the places on the horn ask (<see cref="Places"/>) and what difficulty asks. The limits of the first five levels
/// are soft-tongued moves over two, three, four, five and six positions anywhere on a tenor's slide, at the arm's own pace
/// (<see cref="Player.MoveTime"/>): they peak at up to 2.3, 3.0, 3.4, 3.8 and 4.0 m/s. Nearer moves reach the same limit in less time. The limit is
/// D where that is the hardest change and the mean is three quarters of it: 0.50, 0.60, 0.68, 0.75, 0.81. So the first year may be asked for
/// two neighbouring positions under a soft tongue, for slurs over neighbouring partials and for contrary motion that is not too far; a
/// scale of B-flat on the open slide, with its five positions from B♭2 to C3, belongs to the second. Proposed defaults.</para></remarks>
public static class ExerciseDifficulty
{
    private const double LipChange = 0.084;
    private const double LipWeight = 0.6;

    /// <summary>Seconds from touch to touch of a quick single tongue.</summary>
    internal const double Touch = 0.12;

    private const double Unhurried = 0.4;

    private static readonly double[] Steps = [0.50, 0.60, 0.68, 0.75, 0.81];

    /// <summary>Of a plan; 0 where no change asks anything.</summary>
    public static double Of(Plan plan)
    {
        var asking = plan.Changes.Where(c => c.Difficulty > 0 && c.Kind != ChangeKind.Breath).Select(c => c.Difficulty).ToList();
        return asking.Count == 0 ? 0 : 1 - ((1 - (0.7 * asking.Max()) - (0.3 * asking.Average())) * (1 - (LipWeight * LipHaste(plan))) * (1 - TongueHaste(plan)));
    }

    private static double LipHaste(Plan plan)
    {
        var still = plan.Changes.Where(c => c.Kind == ChangeKind.NaturalSlur && c.SlideMotion == SlideMotion.Still).ToList();
        return still.Count == 0 ? 0 : Math.Min(1, LipChange / still.Min(c => c.TimeAvailable.Value));
    }

    private static double TongueHaste(Plan plan)
    {
        var touches = plan.Changes.Where(c => c.Difficulty > 0 && c.Kind == ChangeKind.SoftTongue && plan.Notes[c.FromNote].Note.Pitch.Midi == plan.Notes[c.ToNote].Note.Pitch.Midi && c.TimeAvailable.Value < Unhurried).ToList();
        return touches.Count == 0 ? 0 : Math.Min(1, Touch / touches.Min(c => c.TimeAvailable.Value));
    }

    /// <summary>What difficulty alone asks, 1 to 6.</summary>
    public static int LevelOf(double difficulty) => 1 + Steps.Count(s => difficulty > s);

    /// <summary>1 to 6.</summary>
    public static int LevelOf(Plan plan, double difficulty)
    {
        var (low, high) = (plan.Notes.MinBy(n => n.Note.Pitch)!.Note.Pitch, plan.Notes.MaxBy(n => n.Note.Pitch)!.Note.Pitch);
        var place = plan.Notes.Max(n => n.Setting is { } s ? Places.LevelOf(s) : 1);
        return Math.Max(LevelOf(difficulty), Math.Max(place, Levels.OfRange(plan.Instrument, low, high)));
    }
}
