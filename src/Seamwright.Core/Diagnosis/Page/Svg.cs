using System.Globalization;
using System.Xml.Linq;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The three SVG elements a picture is made of; what they look like is their class's affair.</summary>
internal static class Svg
{
    public static readonly XNamespace Ns = "http://www.w3.org/2000/svg";

    public static XElement Path(string look, string d) => new(Ns + "path", new XAttribute("class", look), new XAttribute("d", d));

    /// <summary>One line of text.</summary>
    /// <param name="look">Its class: <c>axis</c> or <c>word</c>.</param>
    /// <param name="x">Of its anchor.</param>
    /// <param name="y">Of its baseline.</param>
    /// <param name="text">The text.</param>
    /// <param name="anchor"><c>start</c>, <c>middle</c> or <c>end</c>.</param>
    public static XElement Text(string look, double x, double y, string text, string anchor = "start") =>
        new(Ns + "text", new XAttribute("class", look), new XAttribute("x", N(x)), new XAttribute("y", N(y)), anchor == "start" ? null : new XAttribute("text-anchor", anchor), text);

    public static string N(double value) => (Math.Round(value, 1) + 0.0).ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>As markup inside an HTML page, where SVG needs no namespace.</summary>
    public static Markup Inline(XElement svg)
    {
        var copy = new XElement(svg);
        foreach (var e in copy.DescendantsAndSelf())
        {
            e.Name = e.Name.LocalName;
            e.Attributes().Where(a => a.IsNamespaceDeclaration).Remove();
        }

        return new(copy.ToString(SaveOptions.DisableFormatting));
    }
}
