using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>The stated cost of a plan, term by term. The planner minimises exactly this; brute force checks it.</summary>
/// <param name="instrument">For usual settings, and for what sounds between two.</param>
/// <param name="player">For the arm's time and speed.</param>
/// <param name="weights">What each term weighs.</param>
public sealed class CostModel(Instrument instrument, Player player, CostWeights weights)
{
    private readonly Dictionary<int, SlideSetting?> usual = [];

    /// <summary>What a note costs by itself.</summary>
    public double OfNote(Pitch pitch, SlideSetting setting)
    {
        var far = Math.Max(0, setting.Position - 4);
        return (weights.ValveHeld * setting.Valves.Length)
            + (weights.Residual * Math.Abs(setting.Residual.Value) / 10)
            + (weights.Correction * Math.Abs(setting.Correction.Value) / 10)
            + (weights.FarPosition * far * far)
            + (setting.Equals(UsualSetting(pitch)) ? 0 : weights.Unusual)
            + (setting is { Partial: 1, Valves.Length: > 0 } ? weights.ValvePedal : 0);
    }

    /// <summary>What a change costs, apart from <see cref="CostWeights.Reversal"/>.</summary>
    public double OfChange(Pitch from, SlideSetting a, Pitch to, SlideSetting b, Joint joint)
    {
        var move = ArmMove.Between(a, b, joint, player);
        var hurry = move.PeakSpeed / player.FastestArm;
        var cost = (weights.Travel * Math.Abs(move.Travel.Value) / 10) + (weights.Hurry * hurry * hurry);
        if (a.Side.Id != b.Side.Id && joint.Kind != JointKind.Parted) cost += weights.ValveMove * ValvesMoved(a, b);
        if (joint.Kind == JointKind.Glissando)
            return cost + (a.Side.Id == b.Side.Id && a.Partial == b.Partial ? 0 : weights.BrokenGlissando);
        return joint.IsJoined && Separations.Between(instrument, from, a, to, b).WouldSmear() ? cost + weights.Smear : cost;
    }

    /// <summary>What is added where a move turns against the one before it.</summary>
    public double OfReversal => weights.Reversal;

    /// <summary>The motion that counts for reversals: a parted change has none, the arm has time to turn.</summary>
    public static SlideMotion MotionOf(SlideSetting a, SlideSetting b, Joint joint) =>
        joint.Kind == JointKind.Parted ? SlideMotion.Still : Separations.Motion(a, b);

    /// <summary>Whether <paramref name="next"/> turns against <paramref name="before"/>.</summary>
    public static bool Reverses(SlideMotion before, SlideMotion next) =>
        (before, next) is (SlideMotion.In, SlideMotion.Out) or (SlideMotion.Out, SlideMotion.In);

    private SlideSetting? UsualSetting(Pitch pitch)
    {
        if (usual.TryGetValue(pitch.Midi, out var known)) return known;
        return usual[pitch.Midi] = instrument.UsualSetting(pitch);
    }

    private static int ValvesMoved(SlideSetting a, SlideSetting b)
    {
        var moved = 0;
        foreach (var v in a.Valves) moved += b.Valves.Contains(v) ? 0 : 1;
        foreach (var v in b.Valves) moved += a.Valves.Contains(v) ? 0 : 1;
        return moved;
    }
}
