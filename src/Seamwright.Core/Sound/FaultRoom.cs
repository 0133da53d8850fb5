using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>How much of a fault there is room for between the notes of a change.</summary>
/// <remarks>An arm may be as slow as the note before lets it. What tongue and air do wrong must lie nearer to its own change than to the next one
/// before or after, or it would be heard, and blamed, there.</remarks>
public static class FaultRoom
{
    // Seconds: a touch at half its depth, what of the air's stop is flank, what a note must keep beside a silence, lips that come from a wrong partial.
    private const double Touch = 0.045, Flank = 0.012, Kept = 0.06, Lips = 0.025;

    // Seconds from the middle of a hard tongue to where the level is back.
    private const double HardReach = 0.12;

    // Seconds of the very first and the very last note that attack and end take.
    private const double Edge = 0.03;

    private const double Boundless = double.PositiveInfinity;

    /// <summary>What is played where so much is asked: the same, or what fits.</summary>
    /// <param name="plan">At the tempo at which it is played.</param>
    /// <param name="change">One of its changes.</param>
    /// <param name="fault">One that <see cref="FaultAmounts.Applies"/> to it.</param>
    /// <param name="much">In the unit and range of <see cref="FaultAmounts"/>.</param>
    /// <returns>In the same unit. More than was asked where the partial changes too and so little cannot be told, or where an exercise lets so
    /// much pass. Null where there is no room for the least of it.</returns>
    public static double? Fit(Plan plan, NoteChange change, Fault fault, double much)
    {
        if (FaultAmounts.Of(fault) is not { } amount) return much;
        var least = plan.StaysOnPartial(change) ? amount.Least : FaultAmounts.LeastAcross(fault) ?? amount.Least;
        var wanted = Math.Max(fault == Fault.SlowSlide ? AskedFaults.CreptMs(change, much) : much, FaultAmounts.LeastAcross(fault) is { } ? least : 0);
        var fits = Math.Min(wanted, Most(plan, change, fault));
        return fits >= Math.Min(least, much) ? fits : null;
    }

    private static double Most(Plan plan, NoteChange change, Fault fault) => fault switch
    {
        Fault.Smeared or Fault.SlowSlide or Fault.NoTongue or Fault.HurriedSlide => 1000 * MinimumJerk.TenToNinety * AskedPlaying.SlowShare * change.TimeAvailable.Value,

        // All of it, for the next change follows with a dip of its own; what comes before an early one is past.
        Fault.LateTongue => 1000 * (After(plan, change) - Touch),
        Fault.EarlyTongue => 1000 * (Before(plan, change) - (Touch / 2)),
        Fault.StoppedAir => 2000 * (Math.Min(Before(plan, change), After(plan, change)) - Flank - Kept),
        Fault.Cracked => 1000 * (After(plan, change) - Lips),

        // A deep cut that runs into the next one leaves no level to be below.
        Fault.HardTongue => Math.Min(Before(plan, change), After(plan, change)) < HardReach ? 0 : Boundless,
        _ => Boundless,
    };

    // Seconds from the middle of a change to half way to the one after it, played clean.
    private static double After(Plan plan, NoteChange change)
    {
        var note = plan.Notes[change.ToNote].Note.Duration.Value;
        if (change.ToNote >= plan.Changes.Length) return HalfMove(plan, change) + note - Edge;
        var next = plan.Changes[change.ToNote];
        return HalfMove(plan, change) + ((note - (2 * HalfMove(plan, next))) / 2);
    }

    // Seconds from half way from the change before it to the middle of a change.
    private static double Before(Plan plan, NoteChange change)
    {
        var free = plan.Notes[change.FromNote].Note.Duration.Value - (2 * HalfMove(plan, change));
        return HalfMove(plan, change) + (change.FromNote == 0 ? free - Edge : free / 2);
    }

    private static double HalfMove(Plan plan, NoteChange change) => change.Travel is null ? 0 : Playing.Clean(plan, change).Move.Value / 2;
}
