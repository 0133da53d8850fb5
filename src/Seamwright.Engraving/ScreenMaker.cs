using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving;

/// <summary>Engraves a part for a page on a screen: systems of one width, inked by the page's own style sheet.</summary>
/// <param name="engraver">Kept by the caller.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class ScreenMaker(IEngraver engraver, EngraverFiles? files = null)
{
    private readonly SheetFonts fonts = SheetFonts.From((files ?? EngraverFiles.Default).Fonts);

    /// <summary>Engraves a part with the same positions, marks and syllables as its sheet has.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part; null for a plain one.</param>
    /// <param name="options">As for a sheet; paper and legend do not count.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre; a staff space is 1.76 mm.</param>
    /// <returns>No systems for a part without bars.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public ScreenMusic Make(Part part, Plan? plan, SheetOptions options, int width) => Make(part, options, PlanGuide.Of(part, plan, options), width);

    /// <summary>Engraves a part with positions above and, below, what was heard where each note was reached.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="report">About a take of this plan.</param>
    /// <param name="options">As for a sheet; paper, legend and changes do not count.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre.</param>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public ScreenMusic MakeHeard(Part part, Plan plan, ReportText report, SheetOptions options, int width) =>
        Make(part, options with { ShowChanges = false }, HeardGuide.Of(part, plan, report), width);

    private ScreenMusic Make(Part part, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides, int width)
    {
        if (part.Bars.IsDefaultOrEmpty) return new(Print.Element("defs"), []);
        var made = new SystemEngraver(engraver, fonts).Engrave(part, options, guides, width);
        var systems = made.Systems.Select(s => new ScreenSystem(ScreenInk.Of(s.Drawing, fonts), s.Places)).ToImmutableArray();
        return new(made.Used([.. made.Systems.Select(s => s.Drawing)]), systems);
    }
}

/// <summary>A part on a screen.</summary>
/// <param name="Definitions">A <c>defs</c> element with the shapes the systems refer to.</param>
/// <param name="Systems">In sheet order.</param>
public sealed record ScreenMusic(XElement Definitions, ImmutableArray<ScreenSystem> Systems);

/// <summary>One system on a screen.</summary>
/// <param name="Drawing">A group in hundredths of a millimetre, without colours; every note is a group with its id.</param>
/// <param name="Places">Where everything stands, in the same units.</param>
public sealed record ScreenSystem(XElement Drawing, SystemPlaces Places)
{
    private const int Air = 80;

    /// <summary>What an SVG element that holds the drawing alone shows.</summary>
    /// <param name="width">It was engraved in.</param>
    public string ViewBox(int width) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture, $"{-Air} {Places.Ink.Top - Air:0} {width + (2 * Air)} {Places.Ink.Bottom - Places.Ink.Top + (2 * Air):0}");
}
