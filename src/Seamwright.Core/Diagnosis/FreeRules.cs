using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What can be said of a change of which nobody knows how it was meant.</summary>
/// <remarks>Nothing about wrong notes, tempo or a missing tongue. What is cut off all along is not judged as legato, and a slide longer
/// than any quick move is taken for a glissando. The tongue is compared with the arm only where the pitch itself shows the arm.</remarks>
internal static class FreeRules
{
    private const double LongForABreak = 45;

    public static IEnumerable<Finding> Of(ChangeCase c) => c.Change.Kind switch
    {
        ChangeKind.Tongued => [],
        ChangeKind.Glissando => ChangeRules.Air(c),
        _ => [.. ChangeRules.Air(c), .. Touch(c), .. ChangeRules.Burst(c), .. ChangeRules.Crack(c), .. ChangeRules.Smear(c), .. Timing(c)],
    };

    // The lips let go for a moment where a partial breaks: such a dip may be deep.
    private static IEnumerable<Finding> Touch(ChangeCase c) => c.Heard.Broke == true ? ChangeRules.Long(c) : ChangeRules.Touch(c);

    // A way so long is no break between partials (1 to 33 ms measured on one player), so it is the arm's.
    private static IEnumerable<Finding> Timing(ChangeCase c) =>
        c.Heard is { Arm: not null, Glide.Milliseconds: > LongForABreak } ? ChangeRules.Timing(c) : [];
}
