namespace Seamwright.Core.Scores.Midi;

/// <summary>The signature that leaves the fewest accidentals, for files that give none.</summary>
internal static class KeyGuess
{
    /// <summary>Counts every note against every signature; of equal ones that with the fewest sharps or flats is taken.</summary>
    public static KeySignature Of(IEnumerable<int> keys)
    {
        var counts = new int[12];
        foreach (var key in keys) counts[key % 12]++;
        return Enumerable.Range(-6, 13).Select(f => new KeySignature(f)).OrderBy(k => Outside(counts, k)).ThenBy(k => Math.Abs(k.Fifths)).First();
    }

    // The scale is seven places of the line of fifths, from one below the tonic.
    private static int Outside(int[] counts, KeySignature key)
    {
        var scale = Enumerable.Range(key.Fifths - 1, 7).Select(f => ((7 * f % 12) + 12) % 12).ToHashSet();
        return counts.Where((_, pitchClass) => !scale.Contains(pitchClass)).Sum();
    }
}
