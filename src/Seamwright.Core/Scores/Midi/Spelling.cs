using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>Names for note numbers, from the key and the line.</summary>
/// <remarks>A note of the key's scale has the scale's name. Any other one is, on its way up by a semitone, the letter below raised, and on
/// its way down by a semitone the letter above lowered (common practice for chromatic passing notes); else whichever of its two names lies
/// nearer to the middle of the key on the line of fifths, the flat one where both are as far. Source of the line of fifths as a measure of
/// nearness: D. Temperley, "The Cognition of Basic Musical Structures" (MIT Press, 2001), chapter 5.</remarks>
internal static class Spelling
{
    /// <summary>Spells a note.</summary>
    /// <param name="midi">0 to 127.</param>
    /// <param name="next">The note after it; null for none.</param>
    /// <param name="key">In force.</param>
    public static Pitch Of(int midi, int? next, KeySignature key)
    {
        var sharp = LowestFrom(midi, key.Fifths - 1);
        var inScale = sharp <= key.Fifths + 5;
        var flat = sharp - 12;
        return Named(midi, PitchName.OnFifths(inScale ? sharp : Choose(sharp, flat, next - midi, key)));
    }

    // The name of this sound at or after a place on the line of fifths.
    private static int LowestFrom(int midi, int fifths) => fifths + ((((7 * midi) - fifths) % 12) + 12) % 12;

    private static int Choose(int sharp, int flat, int? step, KeySignature key)
    {
        if (flat < -15 || step == 1) return sharp;
        if (step == -1) return flat;
        var middle = key.Fifths + (key.Mode == KeyMode.Minor ? 4 : 2);
        return Math.Abs(sharp - middle) < Math.Abs(flat - middle) ? sharp : flat;
    }

    private static Pitch Named(int midi, PitchName name)
    {
        var low = new Pitch(name.Step, name.Alter, -1);
        return low with { Octave = -1 + ((midi - low.Midi) / 12) };
    }
}
