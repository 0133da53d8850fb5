using System.Xml.Linq;
using Seamwright.Engraving.Guidance;

namespace Seamwright.Engraving.Pages;

/// <summary>The project's own marks, told apart by outline and filling, never by colour.</summary>
/// <remarks>Drawn about the origin, in hundredths of a millimetre. A natural slur opens by itself: an open lens. A valve slur:
/// a casing with its piston down. A soft tongue: a tongue, flat on top. A glissando: a ramp. A fast slide: a step. Too fast:
/// an hourglass.</remarks>
internal static class MarkShapes
{
    /// <summary>Half the height of the tallest mark.</summary>
    public const double HalfHeight = 110;

    private const double Gap = 90;

    public static double WidthOf(SheetMark mark) => mark switch
    {
        SheetMark.NaturalSlur or SheetMark.GlissandoUp or SheetMark.GlissandoDown => 320,
        SheetMark.FastSlideUp or SheetMark.FastSlideDown => 260,
        SheetMark.SoftTongue => 250,
        SheetMark.ValveSlur => 165,
        _ => 180,
    };

    /// <summary>Marks side by side; 0 for none.</summary>
    public static double WidthOf(IReadOnlyCollection<SheetMark> marks) => Math.Max(0, marks.Sum(WidthOf) + (Gap * (marks.Count - 1)));

    /// <summary>Marks side by side, centred on the origin.</summary>
    public static XElement Row(IReadOnlyCollection<SheetMark> marks)
    {
        var x = -WidthOf(marks) / 2;
        var row = Print.Group("marks");
        foreach (var mark in marks)
        {
            row.Add(Print.At(x + (WidthOf(mark) / 2), 0, Shape(mark)));
            x += WidthOf(mark) + Gap;
        }

        return row;
    }

    public static IEnumerable<XElement> Shape(SheetMark mark) => mark switch
    {
        SheetMark.NaturalSlur => [Print.Path("M-146 0 Q0 -172 146 0 Q0 172 -146 0 Z", filled: false, 26)],
        SheetMark.ValveSlur => [Print.Path("M-70 -98 L70 -98 L70 98 L-70 98 Z", filled: false, 24), Print.Path("M-70 0 L70 0 L70 98 L-70 98 Z", filled: true, 0)],
        SheetMark.SoftTongue => [Print.Path("M-124 -84 L124 -84 C124 30 66 98 0 98 C-66 98 -124 30 -124 -84 Z", filled: true, 0)],
        SheetMark.GlissandoUp => [Print.Path("M-146 84 L146 84 L146 -84 Z", filled: false, 26)],
        SheetMark.GlissandoDown => [Print.Path("M-146 -84 L-146 84 L146 84 Z", filled: false, 26)],
        SheetMark.FastSlideUp => [Print.Path("M-118 84 L-8 84 L8 -84 L118 -84", filled: false, 30)],
        SheetMark.FastSlideDown => [Print.Path("M-118 -84 L-8 -84 L8 84 L118 84", filled: false, 30)],
        _ => [Print.Path("M-86 -104 L86 -104 L0 0 Z M-86 104 L86 104 L0 0 Z", filled: true, 0)],
    };
}
