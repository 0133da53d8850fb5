using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>A picture of the report with its classes written out as attributes, as paper wants it.</summary>
internal static class PicturePrint
{
    private static readonly Dictionary<string, string> Colours = new(StringComparer.Ordinal)
    {
        ["paper"] = ReportInks.Printed.Paper,
        ["ink"] = ReportInks.Printed.Ink,
        ["faint"] = ReportInks.Printed.Faint,
        ["rule"] = ReportInks.Printed.Rule,
        ["wash"] = ReportInks.Printed.Wash,
        ["clean"] = ReportInks.Printed.Clean,
    };

    /// <summary>Scaled to a width.</summary>
    /// <returns>A group about its own origin, and its height.</returns>
    public static (XElement Drawing, double Height) Of(XElement picture, double width)
    {
        var box = picture.Attribute("viewBox")!.Value.Split(' ').Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray();
        var scale = width / box[2];
        var shapes = picture.Elements().Where(e => e.Name.LocalName != "title").Select(Inked);
        return (Print.Element("g", Print.Is("class", "picture"), Print.Is("transform", $"scale({Print.Number(scale)}, {Print.Number(scale)})"), shapes), box[3] * scale);
    }

    private static XElement Inked(XElement shape)
    {
        var look = shape.Attribute("class")!.Value;
        if (shape.Name.LocalName == "text")
            return Text(shape, look == "axis" ? ReportInks.Printed.Faint : ReportInks.Printed.Ink);
        var ink = PictureInk.ByClass[look];
        return Print.Element(
            "path",
            Print.Is("d", shape.Attribute("d")!.Value),
            Print.Is("fill", Colour(ink.Fill)),
            Print.Is("stroke", Colour(ink.Stroke)),
            Print.Is("stroke-width", ink.Width),
            Print.Is("stroke-linejoin", "round"),
            ink.Dashes.Length == 0 ? null : Print.Is("stroke-dasharray", ink.Dashes));
    }

    private static XElement Text(XElement text, string fill)
    {
        double At(string name) => double.Parse(text.Attribute(name)!.Value, CultureInfo.InvariantCulture);
        var printed = Print.Text(Face.Page, PictureInk.TextSize, At("x"), At("y"), text.Value, text.Attribute("text-anchor")?.Value ?? "start");
        printed.SetAttributeValue("fill", fill);
        return printed;
    }

    private static string Colour(string name) => name.Length == 0 ? "none" : Colours[name];
}
