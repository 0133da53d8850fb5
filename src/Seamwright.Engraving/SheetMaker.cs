using System.Collections.Immutable;
using System.Text.Json;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving;

/// <summary>Makes a sheet for a player's stand out of a part and its plan.</summary>
/// <param name="engraver">Kept by the caller, for as many sheets as wanted.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class SheetMaker(IEngraver engraver, EngraverFiles? files = null)
{
    /// <summary>Engraves one part.</summary>
    /// <param name="header">Gives title, subtitle and composer.</param>
    /// <param name="part">At concert pitch, with at least one bar.</param>
    /// <param name="plan">Made from this part; null for a plain sheet.</param>
    /// <param name="options">Null for the defaults.</param>
    /// <returns>No value where the engraver gives up on the piece; signs that cannot be printed are told as problems.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer.</exception>
    public Outcome<EngravedSheet> Make(Score header, Part part, Plan? plan = null, SheetOptions? options = null)
    {
        options ??= new();
        if (part.Bars.IsDefaultOrEmpty) return Outcome<EngravedSheet>.Failed($"part {part.Id}", "There is no bar in it.");
        var (fonts, size) = (SheetFonts.From((files ?? EngraverFiles.Default).Fonts), PageSize.Of(options.Paper));
        var guides = PlanGuide.Of(part, plan, options);
        var words = WordsOf(header, part, plan, options, guides);
        var rows = new NoteRows(part, guides, fonts);
        var notation = MeiWriter.Write(part, options, guides, rows.ColumnOf);
        var engraved = engraver.Engrave(notation.Mei, EngraverOptions(size, "auto"));
        if (Widow.BetterBreaks(engraved) is { } breaks)
        {
            notation = MeiWriter.Write(part, options, guides, rows.ColumnOf, breaks);
            engraved = engraver.Engrave(notation.Mei, EngraverOptions(size, "encoded"));
        }

        if (engraved.IsEmpty) return Outcome<EngravedSheet>.Failed($"part {part.Id}", "The engraver made no page of it.");
        var ink = new InkReader(fonts);
        var dresser = new SystemDresser(rows, notation.Headings, ink, new HeadingPrint(fonts), size.TextWidth);
        var pages = new PageComposer(words, size, new PageHead(words, size, fonts), fonts).Compose(engraved, dresser, ink);
        var problems = Unprintable(words, fonts).ToImmutableArray();
        return Outcome<EngravedSheet>.Of(new EngravedSheet(pages, words, size, fonts, problems), problems);
    }

    private static SheetWords WordsOf(Score header, Part part, Plan? plan, SheetOptions options, ImmutableDictionary<string, NoteGuide> guides)
    {
        var instrument = options.InstrumentName.Length > 0 ? options.InstrumentName : plan?.Instrument.Name ?? part.Name;
        return new SheetWords
        {
            Title = PlainText.OneLine(header.Title),
            Subtitle = PlainText.OneLine(header.Subtitle),
            Composer = PlainText.OneLine(header.Composer),
            TeacherLine = PlainText.OneLine(options.TeacherLine),
            Instrument = PlainText.OneLine(instrument),
            Legend = options.ShowLegend ? Legend.For([.. guides.Values], plan, PlainText.Short(options.Syllable, 8)) : [],
            Cautions = options.ShowCautions,
        };
    }

    /// <summary>One endless page without margins: systems are placed on paper here, once everything around them is known.</summary>
    private static string EngraverOptions(PageSize size, string breaks) => JsonSerializer.Serialize(new
    {
        pageWidth = size.TextWidth / 10,
        pageHeight = 60000,
        pageMarginLeft = 0,
        pageMarginRight = 0,
        pageMarginTop = 0,
        pageMarginBottom = 0,
        unit = MeiWriter.Unit,
        scale = 100,
        breaks,
        header = "none",
        footer = "none",
        smuflTextFont = "none",
        svgViewBox = true,
        xmlIdSeed = 1,
        multiRestStyle = "block",
        minLastJustification = 0.7,
    });

    private static IEnumerable<Problem> Unprintable(SheetWords words, SheetFonts fonts)
    {
        (string Where, string Text)[] texts =
            [("title", words.Title), ("subtitle", words.Subtitle), ("composer", words.Composer), ("teacher's line", words.TeacherLine), ("instrument", words.Instrument)];
        foreach (var (where, text) in texts)
        {
            var missing = string.Join(' ', fonts.Missing(text).Distinct());
            if (missing.Length > 0) yield return new Problem(where, $"The sheet's fonts have no sign for {missing}.", "The PDF leaves it out; the SVG keeps it.");
        }
    }
}
