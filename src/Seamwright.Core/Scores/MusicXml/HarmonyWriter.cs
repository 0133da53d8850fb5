using System.Xml.Linq;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes chord symbols.</summary>
internal static class HarmonyWriter
{
    /// <summary>One symbol.</summary>
    /// <param name="chord">At concert pitch; null for "no chord".</param>
    /// <param name="written">What is added to concert pitch to get what is written.</param>
    public static XElement Of(Chord? chord, Interval written)
    {
        if (chord is null) return new XElement("harmony", Name("root", new PitchName(Step.C, 0)), new XElement("kind", new XAttribute("text", "N.C."), "none"));
        var shown = chord.Transposed(written);
        return new XElement("harmony",
            Name("root", shown.Root),
            new XElement("kind", new XAttribute("text", ChordKinds.SuffixOf(chord.Kind)), chord.Kind.WireName()),
            shown.Bass is { } bass ? Name("bass", bass) : null,
            chord.Degrees.Select(Degree));
    }

    private static XElement Name(string what, PitchName name) => new(what,
        new XElement($"{what}-step", name.Step), name.Alter == 0 ? null : new XElement($"{what}-alter", name.Alter));

    private static XElement Degree(ChordDegree degree) => new("degree",
        new XElement("degree-value", degree.Number),
        new XElement("degree-alter", degree.Alter),
        new XElement("degree-type", degree.Change switch { DegreeChange.Add => "add", DegreeChange.Remove => "subtract", _ => "alter" }));
}
