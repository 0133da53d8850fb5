using System.Xml.Linq;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Frees the numbers of tuplets from the staff.</summary>
/// <remarks>The engraver sets a number right beside its beam; where the beam lies within the staff, so does the number, and a line goes
/// through it. Such a number is moved away from its notes until it stands clear of the staff and of all else.</remarks>
internal sealed class TupletNumbers(InkReader ink)
{
    private const double Gap = 45;

    /// <summary>Moves them, in place.</summary>
    public void Free(XElement system)
    {
        var numbers = system.Descendants(Print.Ns + "g").Where(g => IsOf(g, "tupletNum") && !g.Parent!.Elements().Any(e => IsOf(e, "tupletBracket"))).ToList();
        if (numbers.Count == 0) return;
        var rest = new XElement(system);
        foreach (var e in rest.Descendants().Where(e => IsOf(e, "tupletNum") || IsLine(e)).ToList()) e.Remove();
        var obstacles = ink.Of(rest);
        foreach (var number in numbers) Free(number, obstacles);
    }

    private void Free(XElement number, List<Box> obstacles)
    {
        var heads = number.Parent!.Descendants(Print.Ns + "g").Where(g => IsOf(g, "notehead")).SelectMany(ink.Of).ToList();
        var lines = number.Ancestors(Print.Ns + "g").FirstOrDefault(g => IsOf(g, "staff"))?.Elements().Where(IsLine).SelectMany(ink.Of).ToList() ?? [];
        if (heads.Count == 0 || Box.Around(lines) is not { } staff || Box.Around(ink.Of(number)) is not { } box || !(box with { Left = staff.Left, Right = staff.Right }).Grown(Gap / 2).Overlaps(staff)) return;
        var isBelow = (box.Top + box.Bottom) / 2 > heads.Average(h => (h.Top + h.Bottom) / 2);
        var free = box.Moved(0, isBelow ? staff.Bottom + Gap - box.Top : staff.Top - Gap - box.Bottom);
        while (obstacles.Where(free.Grown(Gap / 2).Overlaps).ToList() is { Count: > 0 } met)
            free = free.Moved(0, isBelow ? met.Max(o => o.Bottom) + Gap - free.Top : met.Min(o => o.Top) - Gap - free.Bottom);
        number.SetAttributeValue("transform", $"translate(0, {Print.Number(free.Top - box.Top)})");
    }

    private static bool IsLine(XElement e) => e.Name.LocalName == "path" && e.Parent is { } parent && IsOf(parent, "staff");

    private static bool IsOf(XElement e, string kind) => e.Attribute("class")?.Value == kind;
}
