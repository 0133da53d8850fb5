using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;

namespace Seamwright.Engraving;

/// <summary>Engraves the sheet's systems one by one, for screens: no paper, no head, no foot.</summary>
/// <param name="engraver">Kept by the caller.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class SystemMaker(IEngraver engraver, EngraverFiles? files = null)
{
    private readonly SheetFonts fonts = SheetFonts.From((files ?? EngraverFiles.Default).Fonts);

    /// <summary>Engraves a part with the same positions, marks and syllables as its sheet has.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="options">As for a sheet; paper and legend do not count.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre; a staff space is 1.76 mm.</param>
    /// <returns>In sheet order; empty for a part without bars.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public ImmutableArray<EngravedSystem> Make(Part part, Plan plan, SheetOptions options, int width)
    {
        if (part.Bars.IsDefaultOrEmpty) return [];
        var made = new SystemEngraver(engraver, fonts).Engrave(part, options, PlanGuide.Of(part, plan, options), width);
        return [.. made.Systems.Select(s => new EngravedSystem(s, made.Used(s.Drawing), fonts))];
    }
}

/// <summary>One system with what stands around it.</summary>
public sealed class EngravedSystem
{
    private readonly XElement drawing, shapes;
    private readonly SheetFonts fonts;

    internal EngravedSystem(DressedSystem system, XElement shapes, SheetFonts fonts)
    {
        (drawing, this.shapes, this.fonts) = (system.Drawing, shapes, fonts);
        Places = system.Places;
    }

    /// <summary>Where everything stands; the system's left end is at 0.</summary>
    public SystemPlaces Places { get; }

    /// <summary>Paints it in dots on clear ground.</summary>
    /// <param name="dotsPerUnit">Dots for a hundredth of a millimetre, more than 0.</param>
    /// <param name="width">Dots.</param>
    /// <param name="height">Dots.</param>
    /// <param name="left">Dots from the picture's left edge to the system's.</param>
    /// <param name="top">Dots from the picture's top edge to the ink's.</param>
    /// <param name="ink">Of everything.</param>
    public Picture Paint(double dotsPerUnit, int width, int height, double left, double top, Ink ink) => new PicturePainter(fonts).Paint(
        drawing, width, height, new Transform(dotsPerUnit, 0, 0, dotsPerUnit, left, top - (Places.Ink.Top * dotsPerUnit)), ink, shapes);
}
