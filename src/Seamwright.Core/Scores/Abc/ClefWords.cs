using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Clef names with their line and figure 8 (ABC 2.1, section 4.6).</summary>
internal static class ClefWords
{
    private static readonly (string Name, Clef Clef, int Line)[] Known =
        [("treble", Clef.Treble, 2), ("bass", Clef.Bass, 4), ("tenor", Clef.Tenor, 4), ("alto", Clef.Alto, 3)];

    /// <summary>Reads a clef word.</summary>
    /// <returns>Null where the word names no clef; a clef of null for one that no trombone reads.</returns>
    public static (Clef? Clef, int Octave)? Of(string word, List<string> said)
    {
        if (word is "perc" or "none")
        {
            said.Add($"The clef '{word}' has no pitch a trombone could read and is left out.");
            return (null, 0);
        }

        var (name, clef, usual) = Array.Find(Known, k => word.StartsWith(k.Name, StringComparison.Ordinal));
        if (name is null) return null;
        var scan = new Scan(word[name.Length..], 0);
        var line = scan.Number() ?? usual;
        var octave = scan.Rest() switch { "-8" => -1, "+8" => 1, "" => 0, _ => (int?)null };
        if (octave is null) return null;
        if (line != usual) said.Add($"The clef '{word}' is shown as the {name} clef.");
        return (WithOctave(clef, octave.Value, word, said), octave.Value);
    }

    private static Clef WithOctave(Clef clef, int octave, string word, List<string> said)
    {
        var shown = (clef, octave) switch
        {
            (Clef.Treble, -1) => Clef.TrebleOctaveDown,
            (Clef.Bass, -1) => Clef.BassOctaveDown,
            _ => clef,
        };
        if (octave != 0 && shown == clef) said.Add($"The clef '{word}' is shown without its 8; the notes keep their sound.");
        return shown;
    }
}
