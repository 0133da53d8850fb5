using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>One movement of the slide.</summary>
/// <param name="Travel">Positive outward.</param>
/// <param name="Time">Zero for a still slide.</param>
/// <param name="PeakSpeed">m/s, 0 for a still slide.</param>
public readonly record struct ArmMove(Centimetres Travel, Seconds Time, double PeakSpeed)
{
    /// <summary>Share of the time from note to note that a slow slide takes (proposed default: nearly all of it, so that it is heard all the way).</summary>
    public const double SlowShare = 0.75;

    /// <summary>The movement a player makes between two settings in the time there is.</summary>
    /// <remarks>Time: the player's time for one position, plus so much for each further one; longer where the way is so long (a contrabass) that the arm would
    /// have to be faster than it is and the joint has the time; never more than the joint allows.</remarks>
    public static ArmMove Between(SlideSetting a, SlideSetting b, Joint joint, Player player)
    {
        var travel = b.Travel - a.Travel;
        var positions = Math.Abs(b.Position - a.Position);
        if (positions <= Separations.StillWithin) return new(travel, Seconds.Zero, 0);
        if (joint.Asked == ChangeIntent.SlowSlide) return Slow(travel, joint);
        var wanted = player.MoveTime.Value + (player.MoveTimePerPosition.Value * Math.Max(0, positions - 1));
        var least = MinimumJerk.PeakOverMean * Math.Abs(travel.Metres) / player.FastestArm * (1 + 1e-9);
        var time = new Seconds(Math.Max(1e-3, Math.Min(Math.Max(wanted, least), joint.Allowed.Value)));
        return new(travel, time, MinimumJerk.PeakSpeed(travel, time));
    }

    private static ArmMove Slow(Centimetres travel, Joint joint)
    {
        var time = SlowShare * joint.Available;
        return new(travel, time, MinimumJerk.PeakSpeed(travel, time));
    }
}
