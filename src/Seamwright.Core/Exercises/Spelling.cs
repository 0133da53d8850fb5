using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Spells notes that belong together without a key: close on the line of fifths, with few accidentals.</summary>
/// <remarks>Every pitch has one name in twelve neighbours on the line of fifths; of the stretches of twelve the cheapest is taken.
/// A flat costs 1, a sharp 1.05 (brass readers see flats more often), C-flat, F-flat, E-sharp and B-sharp 3 on top, and each fifth
/// between the furthest two names 0.3. Proposed defaults.</remarks>
internal static class Spelling
{
    private const double Spread = 0.3;

    // Places on the line of fifths where a stretch may begin: C-flat to G; further out every name costs more.
    private const int FirstStretch = -7;
    private const int LastStretch = 1;

    /// <summary>The same pitches, spelled together.</summary>
    public static ImmutableArray<Pitch> Together(params IReadOnlyList<Pitch> pitches)
    {
        var best = Enumerable.Range(FirstStretch, LastStretch - FirstStretch + 1)
            .Select(first => pitches.Select(p => NameIn(first, p)).ToList())
            .MinBy(Cost)!;
        return [.. pitches.Select((p, i) => Placed(best[i], p.Midi))];
    }

    private static PitchName NameIn(int first, Pitch pitch)
    {
        // Seven fifths are a semitone up to octaves, so a pitch class lies at 7·class on the line, modulo 12.
        var fifths = pitch.Midi % 12 * 7;
        return PitchName.OnFifths(first + ((((fifths - first) % 12) + 12) % 12));
    }

    private static double Cost(List<PitchName> names)
    {
        var accidentals = names.Distinct().Sum(n => (n.Alter > 0 ? 1.05 : 1) * Math.Abs(n.Alter) + (IsAwkward(n) ? 3 : 0));
        return accidentals + (Spread * (names.Max(n => n.Fifths) - names.Min(n => n.Fifths)));
    }

    private static bool IsAwkward(PitchName n) => (n.Step, n.Alter) is (Step.C or Step.F, -1) or (Step.E or Step.B, 1) || Math.Abs(n.Alter) > 1;

    // The letter decides the octave: C-flat 4 sounds as B3.
    private static Pitch Placed(PitchName name, int midi)
    {
        var natural = midi - name.Alter;
        return new Pitch(name.Step, name.Alter, (natural / 12) - 1);
    }
}
