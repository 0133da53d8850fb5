using System.Collections.Immutable;
using System.Text.Json;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>A part as dressed systems.</summary>
/// <param name="Definitions">The shapes they refer to.</param>
/// <param name="Systems">In order; empty where the engraver made nothing of the part.</param>
internal sealed record EngravedSystems(XElement Definitions, ImmutableArray<DressedSystem> Systems)
{
    /// <summary>The shapes that some music refers to, each once.</summary>
    public XElement Used(params XElement[] music)
    {
        var wanted = music.SelectMany(m => m.Descendants(Print.Ns + "use")).Attributes("href").Select(a => a.Value).ToHashSet();
        return Print.Element("defs", Definitions.Elements().Where(d => wanted.Contains("#" + d.Attribute("id")?.Value)).DistinctBy(d => d.Attribute("id")!.Value));
    }
}

/// <summary>Engraves a part in systems of a given width and dresses each.</summary>
internal sealed class SystemEngraver(IEngraver engraver, SheetFonts fonts)
{
    // Shares of the line. An arpeggio may be spread; one figure of two bars would fall apart.
    private const double SpreadFrom = 0.38, HalfFull = 0.45, NearlyFull = 0.7;

    /// <summary>Engraves everything.</summary>
    /// <param name="part">With at least one bar.</param>
    /// <param name="options">Clef and tempo.</param>
    /// <param name="guides">What stands around each note.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre.</param>
    /// <param name="keepsSlurs">Whether systems begin where no slur is open as far as there is room, as in exercises.</param>
    public EngravedSystems Engrave(Part part, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides, int width, bool keepsSlurs = false)
    {
        var sections = Sections.Of(part).Select(i => part.Bars[i].Index).ToList();
        if (!keepsSlurs) return Engrave(part, options, guides, width, null, _ => true, pages => Widow.BetterBreaks(pages, sections));

        // Sections of one exercise are compared: their last systems are spread all, or those that are half full
        var shortest = 1.0;
        return Engrave(part, options, guides, width, null, _ => true, pages => WholeSlurs.Breaks(pages, part, sections, width, out shortest), () => shortest >= SpreadFrom ? SpreadFrom / 2 : HalfFull);
    }

    /// <summary>Engraves the systems of a stretch that begins with a system; they are those of the whole.</summary>
    /// <param name="part">With at least one bar.</param>
    /// <param name="options">Clef and tempo.</param>
    /// <param name="guides">What stands around each note.</param>
    /// <param name="width">Of a system, in hundredths of a millimetre.</param>
    /// <param name="stretch">Begins where no sign is open. One that ends before the part does is engraved without its last system, which is not full.</param>
    /// <param name="from">Systems that begin before this bar are left out.</param>
    /// <param name="next">The bar that the system after these begins with; null at the part's end.</param>
    public EngravedSystems Engrave(Part part, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides, int width, Stretch stretch, int from, out int? next)
    {
        List<int> sections = [stretch.From, .. Sections.Of(part)];
        int? left = null;
        var made = Engrave(part, options, guides, width, stretch, bar => bar >= from && bar != left, pages =>
        {
            var goesOn = stretch.To < part.Bars.Length;
            if (goesOn) left = SystemBars.SystemsOf(pages).Select(SystemBars.Of).Last(b => b.Count > 0)[0];
            return Widow.BetterBreaks(pages, sections, goesOn);
        });
        next = left;
        return made;
    }

    private EngravedSystems Engrave(
        Part part, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides, int width, Stretch? stretch, Func<int, bool> wanted, Func<ImmutableArray<string>, IReadOnlySet<int>?> betterBreaks, Func<double>? spreadFrom = null)
    {
        var rows = new NoteRows(part, guides, fonts);
        var notation = MeiWriter.Write(part, options, guides, rows.ColumnOf, null, stretch);
        var engraved = engraver.Engrave(notation.Mei, EngraverOptions(part, width, "auto", stretched: spreadFrom is null));
        if (betterBreaks(engraved) is { } breaks)
        {
            notation = MeiWriter.Write(part, options, guides, rows.ColumnOf, breaks, stretch);
            engraved = engraver.Engrave(notation.Mei, EngraverOptions(part, width, "encoded", spreadFrom: spreadFrom?.Invoke()));
        }

        var ink = new InkReader(fonts);
        return Dressed(engraved, new SystemDresser(rows, notation.Headings, ink, new HeadingPrint(fonts, width), width), ink, wanted);
    }

    // Ink learns the music font's shapes before anything is dressed.
    private static EngravedSystems Dressed(ImmutableArray<string> engraved, SystemDresser dresser, InkReader ink, Func<int, bool> wanted)
    {
        var definitions = Print.Element("defs");
        var systems = ImmutableArray.CreateBuilder<DressedSystem>();
        foreach (var page in engraved)
        {
            var (shapes, music) = MusicCleaner.Clean(XElement.Parse(page));
            ink.Learn(shapes);
            definitions.Add(shapes.Elements());
            systems.AddRange(SystemsOf(music).Where(g => SystemBars.Of(g) is not [var bar, ..] || wanted(bar)).Select(dresser.Dress));
        }

        return new(definitions, systems.ToImmutable());
    }

    private static IEnumerable<XElement> SystemsOf(XElement music) => music.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "system");

    /// <summary>One endless page without margins: systems are placed on paper here, once everything around them is known.</summary>
    private static string EngraverOptions(Part part, int width, string breaks, bool stretched = true, double? spreadFrom = null) => JsonSerializer.Serialize(new
    {
        pageWidth = width / 10,
        pageHeight = 60000,
        pageMarginLeft = 0,
        pageMarginRight = 0,
        pageMarginTop = 0,
        pageMarginBottom = 0,
        unit = MeiWriter.Unit,
        scale = 100,
        breaks,
        noJustification = !stretched,
        header = "none",
        footer = "none",
        smuflTextFont = "none",
        svgViewBox = true,
        xmlIdSeed = 1,
        multiRestStyle = "block",
        minLastJustification = spreadFrom ?? (Sections.Of(part).Count > 1 ? HalfFull : NearlyFull),
        mdivAll = true,
    });
}
