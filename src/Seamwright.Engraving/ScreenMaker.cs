using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving;

/// <summary>Engraves a part for a page on a screen: systems of one width, inked by the page's own style sheet.</summary>
/// <param name="engraver">Kept by the caller.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class ScreenMaker(IEngraver engraver, EngraverFiles? files = null)
{
    /// <summary>Notes and rests engraved in one go: enough to fill a high screen.</summary>
    private const int EventsAtOnce = 160;

    private readonly SheetFonts fonts = SheetFonts.From((files ?? EngraverFiles.Default).Fonts);

    /// <summary>Engraves a part with the same positions, marks and syllables as its sheet has.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part; null for a plain one.</param>
    /// <param name="options">As for a sheet; paper and legend do not count.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre; a staff space is 1.76 mm.</param>
    /// <returns>No systems for a part without bars.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public ScreenMusic Make(Part part, Plan? plan, SheetOptions options, int width) => Make(part, options, PlanGuide.Of(part, plan, options), width);

    /// <summary>Engraves only the systems from a place on, as many as make 160 notes and rests or a few more: the first lines of a long part stand long before its last.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="options">As for a sheet; paper and legend do not count.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre.</param>
    /// <param name="place">Where to begin: <see cref="ScreenPlace.Beginning"/>, or where the systems before these ended.</param>
    /// <returns>The same systems as of the whole part, with the place of the next one. A place where no system of the whole begins gives systems that begin there all the same.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is no such bar, or it lies before the one to engrave from.</exception>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public ScreenMusic MakeFrom(Part part, Plan? plan, SheetOptions options, int width, ScreenPlace place)
    {
        if (part.Bars.IsDefaultOrEmpty) return new(Print.Element("defs"), []);
        ArgumentOutOfRangeException.ThrowIfNegative(place.Since);
        ArgumentOutOfRangeException.ThrowIfLessThan(place.Bar, place.Since);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(place.Bar, part.Bars.Length);
        var (crossed, guides) = (Crossings.Of(part), PlanGuide.Of(part, plan, options));
        for (var much = EventsAtOnce; ; much *= 2)
        {
            var stretch = new Stretch(place.Since, EndOf(part, place.Bar, much, crossed));
            var made = new SystemEngraver(engraver, fonts).Engrave(part, options, guides, width, stretch, place.Bar, out var next);
            if (made.Systems.IsEmpty && next is not null) continue;

            // Close to a full line the engraver may break otherwise than it did in the run before; then a sign is cut rather than a bar lost.
            if (place.Since < place.Bar && (made.Systems.IsEmpty || made.Systems[0].Places.Bars[0].Index != place.Bar)) return MakeFrom(part, plan, options, width, new(place.Bar, place.Bar));
            var since = made.Systems.Select(s => s.Places.Bars[0].Index).Where(b => !crossed.Contains(b)).DefaultIfEmpty(place.Since).Max();
            return Inked(made, next is { } bar ? new ScreenPlace(bar, since) : null);
        }
    }

    /// <summary>What the positions and signs of a part's sheet mean.</summary>
    /// <param name="part">At concert pitch.</param>
    /// <param name="plan">Made from this part.</param>
    /// <param name="options">As for a sheet.</param>
    /// <exception cref="EngravingException">A font is missing on this computer.</exception>
    public ImmutableArray<ScreenSign> Signs(Part part, Plan plan, SheetOptions options) =>
        [.. Legend.For([.. PlanGuide.Of(part, plan, options).Values], plan, PlainText.Short(options.Syllable, 8)).Select(e => new ScreenSign(e.Mark is { } mark ? ScreenInk.Of(new XElement(Print.Ns + "g", MarkShapes.Shape(mark)), fonts) : null, e.Sample, e.Meaning))];

    // A short rest of the part is taken along; a stretch ends where nothing is open.
    private static int EndOf(Part part, int from, int much, ImmutableHashSet<int> crossed)
    {
        var (to, events) = (from, 0);
        while (to < part.Bars.Length && (events < much || crossed.Contains(to))) events += part.Bars[to++].Events.Length;
        return part.Bars.Skip(to).Sum(b => b.Events.Length) < much / 2 ? part.Bars.Length : to;
    }

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
        return Inked(new SystemEngraver(engraver, fonts).Engrave(part, options, guides, width), null);
    }

    private ScreenMusic Inked(EngravedSystems made, ScreenPlace? next)
    {
        var systems = made.Systems.Select(s => new ScreenSystem(ScreenInk.Of(s.Drawing, fonts), s.Places)).ToImmutableArray();
        return new(made.Used([.. made.Systems.Select(s => s.Drawing)]), systems) { Next = next };
    }
}

/// <summary>A part on a screen.</summary>
/// <param name="Definitions">A <c>defs</c> element with the shapes the systems refer to.</param>
/// <param name="Systems">In sheet order.</param>
public sealed record ScreenMusic(XElement Definitions, ImmutableArray<ScreenSystem> Systems)
{
    /// <summary>Where the next system begins; null where there is none.</summary>
    public ScreenPlace? Next { get; init; }
}

/// <summary>One sign of a sheet and what it means.</summary>
/// <param name="Shape">About the origin, at most 320 wide and 220 high; null where the sign is text.</param>
/// <param name="Sample">The text; may be empty.</param>
/// <param name="Meaning">In a pupil's words.</param>
public sealed record ScreenSign(XElement? Shape, string Sample, string Meaning);

/// <summary>Where a system of a part begins.</summary>
/// <param name="Bar">Index of its first bar.</param>
/// <param name="Since">A bar from which on its stretch can be engraved by itself: it begins a system too, and no sign is open there.</param>
public readonly record struct ScreenPlace(int Bar, int Since)
{
    /// <summary>The first system.</summary>
    public static ScreenPlace Beginning => new(0, 0);
}

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
