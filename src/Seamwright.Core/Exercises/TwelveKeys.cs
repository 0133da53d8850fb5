using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The twelve keys, each spelled as it is usually read.</summary>
public static class TwelveKeys
{
    /// <summary>Tonics from C up by semitones, for a scale: the spelling whose signature has fewest signs; of six sharps and six flats
    /// the flats, as brass players read them.</summary>
    /// <param name="scale">Null for major.</param>
    public static ImmutableArray<KeyName> Of(Scale? scale)
    {
        var added = scale?.Fifths ?? 0;
        return [.. Enumerable.Range(0, 12).Select(pc => new KeyName(Spellings(pc).MinBy(n => (Math.Abs(n.Fifths + added), Math.Abs(n.Fifths), n.Fifths)), null))];
    }

    // At most one sign on the tonic itself.
    private static IEnumerable<PitchName> Spellings(int pitchClass) =>
        from step in Enum.GetValues<Step>()
        from alter in new[] { -1, 0, 1 }
        let name = new PitchName(step, alter)
        where name.PitchClass == pitchClass
        select name;
}
