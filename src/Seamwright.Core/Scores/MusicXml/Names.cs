using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>The words MusicXML uses for shapes, marks and clefs, for reading and for writing.</summary>
internal static class Names
{
    /// <summary>Note types by <see cref="NoteValue.Base"/> + 1.</summary>
    public static readonly string[] NoteTypes = ["breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th", "128th", "256th"];

    /// <summary>Type of the <c>other-play</c> that holds a prescribed slide setting.</summary>
    public const string SettingTask = "slide-setting";

    /// <summary>Type of the <c>other-listen</c> that says what an exercise asks of the way into a note.</summary>
    public const string LegatoTask = "legato";

    /// <summary>Dynamics that have an element of their own.</summary>
    public static readonly HashSet<string> Dynamics =
    [
        "p", "pp", "ppp", "pppp", "ppppp", "pppppp", "f", "ff", "fff", "ffff", "fffff", "ffffff",
        "mp", "mf", "sf", "sfp", "sfpp", "fp", "rf", "rfz", "sfz", "sffz", "fz", "n", "pf", "sfzp",
    ];

    /// <summary>Articulation elements and what they mean here; the first name of a mark is the one written.</summary>
    public static readonly (string Name, Articulations Mark)[] Articulation =
    [
        ("staccato", Articulations.Staccato),
        ("tenuto", Articulations.Tenuto),
        ("accent", Articulations.Accent),
        ("strong-accent", Articulations.StrongAccent),
        ("staccatissimo", Articulations.Staccatissimo),
        ("detached-legato", Articulations.DetachedLegato),
        ("spiccato", Articulations.Staccatissimo),
        ("soft-accent", Articulations.Accent),
    ];

    /// <summary>Clefs by sign, line and octave change.</summary>
    public static readonly (Clef Clef, string Sign, int Line, int Octave)[] Clefs =
    [
        (Clef.Bass, "F", 4, 0),
        (Clef.Tenor, "C", 4, 0),
        (Clef.Alto, "C", 3, 0),
        (Clef.Treble, "G", 2, 0),
        (Clef.TrebleBb, "G", 2, 0),
        (Clef.BassOctaveDown, "F", 4, -1),
        (Clef.TrebleOctaveDown, "G", 2, -1),
    ];

    /// <summary>The base of a note type; null where it is none that can be drawn here.</summary>
    public static int? BaseOf(string? type)
    {
        var place = Array.IndexOf(NoteTypes, type);
        return place < 0 ? null : place - 1;
    }

    /// <summary>The accidental sign for an alteration.</summary>
    /// <param name="alter">−2 to 2.</param>
    public static string Accidental(int alter) => alter switch
    {
        -2 => "flat-flat",
        -1 => "flat",
        1 => "sharp",
        2 => "double-sharp",
        _ => "natural",
    };
}
