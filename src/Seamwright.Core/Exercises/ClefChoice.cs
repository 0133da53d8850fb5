using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Chooses the clefs of an exercise: few ledger lines, few changes.</summary>
public static class ClefChoice
{
    /// <summary>The part in the clefs chosen.</summary>
    /// <param name="part">Its own clefs are replaced.</param>
    /// <param name="wished">One clef throughout; null chooses.</param>
    /// <param name="usual">What the instrument reads by habit.</param>
    public static Part Dress(Part part, Clef? wished, Clef usual)
    {
        var clef = wished ?? usual;
        return part with { Bars = [.. part.Bars.Select(b => b with { Clefs = b.Index == 0 ? [new ClefMark(Beats.Zero, clef)] : [] })] };
    }
}
