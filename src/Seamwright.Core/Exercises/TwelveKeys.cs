using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The twelve tonics of a scale, each by the name that is usually read.</summary>
public static class TwelveKeys
{
    /// <summary>From C up by semitones: the spelling whose signature has fewest signs; of six sharps and six flats the flats, as brass
    /// players read them.</summary>
    public static ImmutableArray<PitchName> For(Scale scale) =>
        [.. Enumerable.Range(0, 12).Select(pc => Spellings(pc).MinBy(n => (Math.Abs(n.Fifths + (scale.Fifths ?? 0)), Math.Abs(n.Fifths), n.Fifths)))];

    // At most one sign on the tonic itself.
    private static IEnumerable<PitchName> Spellings(int pitchClass) =>
        from step in Enum.GetValues<Step>()
        from alter in new[] { -1, 0, 1 }
        let name = new PitchName(step, alter)
        where name.PitchClass == pitchClass
        select name;
}
