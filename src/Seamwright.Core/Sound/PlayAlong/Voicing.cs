using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A chord laid out for two hands: MIDI note numbers.</summary>
/// <param name="Bass">E2 to E-flat 3.</param>
/// <param name="Upper">Three or four tones in close position, ascending; fewer only where the chord has fewer.</param>
internal sealed record Voiced(int Bass, ImmutableArray<int> Upper);

/// <summary>Voices chords simply: a bass note, and over it the chord in close position that moves least from the one before.</summary>
/// <remarks>Of more than three tones the bass takes the root over; of more than four parts the fifth goes first, then the ninth, as in any book on
/// keyboard harmony. Movement is counted in semitones; a third of a semitone's worth pulls towards B-flat 3, so that chords do not wander off.</remarks>
internal static class Voicing
{
    private const int LowestBass = 40, Lowest = 50, Highest = 69;
    private const double Centre = 58, Pull = 0.33;

    /// <summary>The next chord.</summary>
    /// <param name="chord">At concert pitch.</param>
    /// <param name="before">The one before it; null at the beginning.</param>
    public static Voiced Next(Chord chord, Voiced? before)
    {
        var bass = LowestBass + Mod(((chord.Bass ?? chord.Root).PitchClass - LowestBass) % 12);
        var classes = Upper(chord);
        ImmutableArray<int> best = [];
        var least = double.PositiveInfinity;
        for (var bottom = Lowest; bottom < Lowest + 12; bottom++)
        {
            if (!classes.Contains(bottom % 12)) continue;
            var tones = classes.Select(c => bottom + Mod(c - bottom)).Order().ToImmutableArray();
            var cost = Cost(tones, before);
            if (tones[^1] > Highest || cost >= least) continue;
            (best, least) = (tones, cost);
        }

        return new Voiced(bass, best);
    }

    private static double Cost(ImmutableArray<int> tones, Voiced? before)
    {
        var cost = Pull * tones.Length * Math.Abs(tones.Average() - Centre);
        if (before is null) return cost;
        return cost + tones.Sum(t => before.Upper.Min(b => Math.Abs(b - t))) + before.Upper.Sum(b => tones.Min(t => Math.Abs(b - t)));
    }

    private static List<int> Upper(Chord chord)
    {
        var tones = chord.Tones.ToList();
        if (tones.Count > 3 && chord.Bass is null) tones.RemoveAll(t => t.Steps == 0);
        foreach (var letters in (ReadOnlySpan<int>)[4, 0, 8])
        {
            if (tones.Count > 4) tones.RemoveAll(t => t.Steps == letters && t.Semitones % 12 is 7 or 0 or 2);
        }

        return [.. tones.Select(t => (chord.Root.PitchClass + t.Semitones) % 12).Distinct()];
    }

    private static int Mod(int x) => ((x % 12) + 12) % 12;
}
