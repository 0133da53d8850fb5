using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Pages;

/// <summary>Draws what was heard under a note: the verdict's shape, and its word below.</summary>
internal static class HeardPrint
{
    public const Fonts.Face Face = Fonts.Face.MusicItalic;
    public const double WordSize = 370;

    /// <summary>Half the height of a shape.</summary>
    public const double HalfShape = 6 * Scale;
    public const double ShapeWidth = 12 * Scale;

    // From the shape's box of 12 units to hundredths of a millimetre.
    private const double Scale = 23;
    private const double Baseline = HalfShape + (0.85 * WordSize);

    public static double Bottom(HeardMark mark) => mark.Word.Length == 0 ? HalfShape : Baseline + (0.22 * WordSize);

    public static XElement Draw(HeardMark mark)
    {
        var drawing = Print.Group("heard-parts", Print.Element("g", Print.Is("transform", $"scale({Print.Number(Scale)}, {Print.Number(Scale)})"), Shape(mark.Verdict)));
        drawing.SetAttributeValue("color", ReportInks.Printed.Of(mark.Verdict));
        if (mark.Word.Length > 0)
        {
            var word = Print.Text(Face, WordSize, 0, Baseline, mark.Word, "middle");
            word.SetAttributeValue("fill", ReportInks.Printed.Ink);
            drawing.Add(word);
        }

        return drawing;
    }

    /// <summary>The verdict's shape in its own box of 12 units around the origin, in the colour around it.</summary>
    public static XElement Shape(Verdict verdict)
    {
        var mark = VerdictMarks.Of(verdict);
        return Print.Path(mark.Outline, mark.Ink == MarkInk.Filled, mark.Ink switch { MarkInk.Hollow => 1.6, MarkInk.Line => 1.8, _ => 0 });
    }

    /// <summary>The class a style sheet colours it by.</summary>
    public static string Look(Verdict verdict) => VerdictMarks.Look(verdict);
}
