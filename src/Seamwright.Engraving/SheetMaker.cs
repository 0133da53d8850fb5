using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
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
    /// <returns>No value for a part without bars; signs that cannot be printed are told as problems.</returns>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public Outcome<EngravedSheet> Make(Score header, Part part, Plan? plan = null, SheetOptions? options = null)
    {
        options ??= new();
        if (part.Bars.IsDefaultOrEmpty) return Outcome<EngravedSheet>.Failed($"part {part.Id}", "There is no bar in it.");
        var (fonts, size) = (SheetFonts.From((files ?? EngraverFiles.Default).Fonts), PageSize.Of(options.Paper));
        var guides = PlanGuide.Of(part, plan, options);
        var words = WordsOf(header, part, plan, options, guides);
        var music = new SystemEngraver(engraver, fonts).Engrave(part, options, guides, size.TextWidth);
        if (music.Systems.IsEmpty) return Outcome<EngravedSheet>.Failed($"part {part.Id}", "The engraver made no page of it.");
        var (pages, places) = new PageComposer(words, size, new PageHead(words, size, fonts), fonts).Compose(music);
        var problems = Unprintable(words, fonts).ToImmutableArray();
        return Outcome<EngravedSheet>.Of(new EngravedSheet(pages, places, words, size, fonts, problems), problems);
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

    private static IEnumerable<Problem> Unprintable(SheetWords words, SheetFonts fonts) => MissingSigns.In(
        fonts,
        "The PDF leaves it out; the SVG keeps it.",
        ("title", words.Title), ("subtitle", words.Subtitle), ("composer", words.Composer), ("teacher's line", words.TeacherLine), ("instrument", words.Instrument));
}
