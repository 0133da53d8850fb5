using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>How much of a fault there can be.</summary>
/// <param name="Unit">ms, dB or cents.</param>
/// <param name="Least">In that unit.</param>
/// <param name="Most">In that unit.</param>
/// <param name="Default">Well outside what one orchestral player was measured to do, so that no ear is in doubt.</param>
/// <param name="Meaning">What is counted.</param>
public sealed record FaultAmount(string Unit, double Least, double Most, double Default, string Meaning);

/// <summary>What the amount of each fault counts, and where a fault can be at all.</summary>
public static class FaultAmounts
{
    /// <summary>Null for a fault that has no amount.</summary>
    public static FaultAmount? Of(Fault fault) => fault switch
    {
        Fault.Smeared => new("ms", 30, 320, 165, "the pitch's way from 10 to 90 per cent, hardly hidden by a tongue"),
        Fault.SlowSlide => new("ms", 30, 320, 165, "the pitch's way from 10 to 90 per cent, the tongue as it should be"),
        Fault.NoTongue => new("ms", 30, 320, 130, "the pitch's way from 10 to 90 per cent, no tongue at all"),
        Fault.LateTongue => new("ms", 10, 150, 90, "how long after the arm is half way the tongue touches"),
        Fault.EarlyTongue => new("ms", 10, 150, 90, "how long before the arm is half way the tongue touches"),
        Fault.HardTongue => new("dB", 17, 27, 19, "how deep the tongue cuts; the new note bursts; beyond 20 dB the air has stopped as well, beyond 27 hardly more than air rushes"),
        Fault.StoppedAir => new("ms", 20, 300, 70, "how long the level lies more than 20 dB down; what hardly outlasts the 13 ms, on low notes two periods, that hearing takes together is no silence yet"),
        Fault.Cracked => new("ms", 30, 200, 80, "how long the wrong partial is aimed at"),
        Fault.OutOfTune => new("cents", 1, 50, 35, "how sharp the note is"),
        Fault.HurriedSlide => new("ms", 30, 200, 80, "the pitch's way from 10 to 90 per cent, where a slow slide was asked for"),
        Fault.Tongued => new("dB", 6, 30, 22, "how deep a tongue cuts where none was asked for"),
        Fault.UnevenAir => new("dB", 1, 12, 5, "how much softer every other touch leaves the tone"),
        _ => null,
    };

    /// <summary>The least of a fault where the partial changes too, in its unit; null where it is the same as on one partial. A tongue that lies
    /// nearer to the break makes one dip with the break's own, or takes the air with which the new partial is to win: no ear can tell within 5 ms
    /// where it was (decision 14).</summary>
    public static double? LeastAcross(Fault fault) => fault switch { Fault.EarlyTongue => 20, Fault.LateTongue => 30, _ => null };

    /// <summary>Whether a change can go wrong so: only a slide that moves with the pitch smears and needs the tongue at its moment, and only
    /// where notes are joined does anything go wrong; an ordinary tongue may be as hard, and stop the air. Where an exercise asks something of its own, only what is against it does.</summary>
    public static bool Applies(Fault fault, NoteChange change) => change.Kind != ChangeKind.Breath && change.Travel is not null && (AskedFaults.Apply(fault, change) ?? fault switch
    {
        Fault.LateTongue or Fault.EarlyTongue => WouldSmear(change) && change.Kind != ChangeKind.Tongued,
        Fault.Smeared or Fault.SlowSlide or Fault.NoTongue => WouldSmear(change),

        // An ordinary tongue may cut as deep and stop the air.
        Fault.HardTongue or Fault.StoppedAir => change.Kind != ChangeKind.Tongued,
        _ => true,
    });

    // Up with the slide going in, or down with it going out.
    private static bool WouldSmear(NoteChange change) => change.SmearIfUntongued.Value > 0;
}
