using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>How hard one change is, 0 to 1.</summary>
/// <remarks><para>d = 1 − (1 − arm)(1 − coordination)(1 − register), so that any part alone can make a change hard and no sum passes 1.</para>
/// <para>arm = min(1, (peak speed / fastest arm)²): what must be given to slide and arm and taken from them again grows with the square of
/// the speed, as the planner's <see cref="CostWeights.Hurry"/> has it. By share of the speed alone, one position at the arm's own pace
/// (1.0 to 1.4 m/s of 4.5) counted as a third of what an arm can do; arms do not go slower than their own pace when they are given more
/// time (Van der Wel, Sternad and Rosenbaum, J. Mot. Behav. 2009, 29–36), so that pace must count for little.</para>
/// <para>coordination: for a soft tongue over a moving slide 0.1 + 0.4·s/(s + p), with s the time the smear would be heard and p
/// the time from which it is noticed; 0.1 for a soft tongue on a still slide; 0.1 for a valve slur, 0.2 if the slide moves too;
/// for a natural slur 0.05 for each partial passed, at most 0.4; otherwise 0.</para>
/// <para>register: 0.04 for each partial above the eighth and for each open-horn position beyond fifth, 0.1 for a pedal; the harder note counts.</para>
/// <para>All proposed defaults; the order of changes they give is what the formula is for.</para></remarks>
public static class ChangeDifficulty
{
    /// <summary>The difficulty of a change between two settings.</summary>
    public static double Of(
        ChangeKind kind, Separation separation, SlideSetting a, SlideSetting b, ArmMove move, Seconds smear, double semitones, double fastestArm)
    {
        var arm = Math.Min(1, Math.Pow(move.PeakSpeed / fastestArm, 2));
        var coordination = Coordination(kind, separation, a, b, move, smear, semitones);
        var register = Math.Max(Register(a), Register(b));
        return Math.Clamp(1 - ((1 - arm) * (1 - coordination) * (1 - register)), 0, 1);
    }

    private static double Coordination(
        ChangeKind kind, Separation separation, SlideSetting a, SlideSetting b, ArmMove move, Seconds smear, double semitones)
    {
        switch (kind)
        {
            case ChangeKind.SoftTongue when separation.WouldSmear():
                var noticed = Smear.PossibleFrom(semitones).Value;
                return 0.1 + (0.4 * smear.Value / (smear.Value + noticed));
            case ChangeKind.SoftTongue:
                return 0.1;
            case ChangeKind.ValveSlur:
                return move.Time.Value > 0 ? 0.2 : 0.1;
            case ChangeKind.NaturalSlur:
                return Math.Min(0.4, 0.05 * Math.Abs(b.Partial - a.Partial));
            default:
                return 0;
        }
    }

    private static double Register(SlideSetting s) =>
        Math.Min(1, (0.04 * Math.Max(0, s.Partial - 8)) + (0.04 * Math.Max(0, s.Position - 5)) + (s.Partial == 1 ? 0.1 : 0));
}
