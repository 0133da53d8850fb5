using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Report;

namespace Seamwright.Engraving.Book;

/// <summary>Sets one exercise: its head, its systems, its word on rest.</summary>
internal sealed class ExercisePrint(IEngraver engraver, BookOptions options, PageSize size, SheetFonts fonts, bool isNumbered)
{
    private const double SystemGap = 330, SystemStretch = 500, SectionGap = 480, UnitGap = 800, UnitStretch = 900;

    /// <summary>Share of the width that words take; tempos stand beside them.</summary>
    private const double WordsShare = 0.66;

    /// <summary>Shares of the usual size that still read well beside it (proposed default).</summary>
    private static readonly double[] Smaller = [0.94, 0.88];
    private readonly Lettering letters = new(fonts);
    private readonly Dictionary<string, int> told = new(StringComparer.Ordinal);
    private readonly Dictionary<int, string> purposes = [];
    private readonly SheetOptions look = new() { Syllable = options.Syllable };

    private double Width => size.TextWidth;

    /// <summary>What stands around its notes.</summary>
    public ImmutableDictionary<string, NoteGuide> Guides(Exercise exercise) => PlanGuide.Of(exercise.Part, exercise.Plan, look);

    /// <summary>Its pieces from top to bottom. Where a page has not quite room for it, its music is a little smaller (<see cref="Smaller"/>).</summary>
    /// <param name="exercise">With music.</param>
    /// <param name="entry">Its place in the book, from 0.</param>
    /// <param name="fits">Whether pieces find room on a page of their own.</param>
    public IReadOnlyList<Piece> Pieces(Exercise exercise, int entry, Func<IReadOnlyList<Piece>, bool> fits)
    {
        var head = Head(exercise, entry);
        var usual = Set(options.MusicSize);
        if (exercise.IsPiece || fits(usual)) return usual;
        return Smaller.Select(share => Set(share * options.MusicSize)).FirstOrDefault(fits) ?? usual;

        IReadOnlyList<Piece> Set(double scale)
        {
            var music = new SystemEngraver(engraver, fonts).Engrave(exercise.IsPiece ? Untimed(exercise.Part) : Plain(exercise.Part), look, Guides(exercise), (int)(Width / scale), keepsSlurs: !exercise.IsPiece);
            return [head, .. music.Systems.Select((s, i) => System(music, s, i, scale)), Rest(exercise)];
        }
    }

    // The tempos stand in the head as boxes to tick; bars need no numbers.
    private static Part Plain(Part part) => part with { Bars = [.. part.Bars.Select(b => b with { Number = "", Tempos = [] })] };

    // A piece keeps what changes its tempo on the way.
    private static Part Untimed(Part part) => part with { Bars = part.Bars.SetItem(0, part.Bars[0] with { Tempos = [.. part.Bars[0].Tempos.Where(t => t.Offset > Beats.Zero)] }) };

    private static Piece System(EngravedSystems music, DressedSystem system, int index, double scale)
    {
        var drawing = Print.Element("g", Print.Is("transform", $"scale({Print.Number(scale)}, {Print.Number(scale)})"), Print.At(0, -system.Top, system.Drawing));
        var begins = system.Drawing.Descendants(Print.Ns + "text").Any(t => t.Parent?.Attribute("class")?.Value == "section-heading");
        return new Piece(drawing, system.Height * scale)
        {
            Before = index == 0 || begins ? SectionGap : SystemGap,
            Stretch = SystemStretch,
            MayBegin = index > 0,
            BeginsSection = begins,
            Shapes = music.Used(drawing),
        };
    }

    private Piece Rest(Exercise exercise)
    {
        var block = letters.Paragraph(Face.PageItalic, 8.5, Width, exercise.Rest, Lettering.Ink);
        return new Piece(block.Drawing, block.Height) { Before = 180 };
    }

    private Piece Head(Exercise exercise, int entry)
    {
        var words = string.Join('\n', exercise.Practice);
        purposes[entry] = exercise.Purpose;
        if (!told.TryAdd(words, entry) && !options.RepeatsWords) return Head(exercise, entry, told[words]);
        return Head(exercise, entry, null) with { Words = words, Short = before => Head(exercise, entry, before) };
    }

    /// <param name="exercise">Whose.</param>
    /// <param name="entry">Its place in the book, from 0.</param>
    /// <param name="before">The exercise that is practised the same way; null to tell how.</param>
    private Piece Head(Exercise exercise, int entry, int? before)
    {
        var (group, y) = (Print.Group("exercise-head", PageHead.Stitches(0, Width, 0)), 170.0);
        var level = $"Level {exercise.Level}";
        var levelWidth = letters.Width(Face.PageItalic, 9.5, level);
        var title = letters.Paragraph(Face.PageStrong, 14, Width - levelWidth - 500, exercise.Title, Lettering.Ink, isNumbered ? $"{entry + 1}." : "", most: 2);
        group.Add(Print.At(0, y, title.Drawing), Lettering.Word(Face.PageItalic, 9.5, Width, y + (14 * PageSize.Point), level, Lettering.Ink, "end"));
        y += title.Height + 40;
        y = Stacked(group, 0, y, letters.Paragraph(Face.Page, 8.5, Width, Measures(exercise), Lettering.Faint));
        y += 130;
        var boxes = new TempoBoxes(letters, [.. exercise.Tempos.Select(t => TempoWords.Of(exercise.Part, t))]);
        var bottom = before is { } same
            ? Brief(group, exercise, same, boxes, y)
            : Math.Max(Words(group, exercise, WordsShare * Width, y), boxes.Column(group, (WordsShare * Width) + 700, Width, y));
        return new Piece(group, bottom) { Before = UnitGap, Stretch = UnitStretch, Entry = entry };
    }

    // What differs from the exercise that tells the rest, and the tempos in a row where they fit one.
    private double Brief(XElement group, Exercise exercise, int same, TempoBoxes boxes, double y)
    {
        var reference = letters.Paragraph(Face.PageItalic, 10, Width, $"Practise it as number {same + 1}.", Lettering.Ink);
        var isRow = letters.Width(Face.PageItalic, 10, $"Practise it as number {same + 1}.") + 700 + boxes.RowWidth <= Width;
        var top = y;
        var width = isRow ? Width : WordsShare * Width;
        if (exercise.Purpose != purposes[same]) y = Stacked(group, 0, y, letters.Paragraph(Face.PageItalic, 10, width, exercise.Purpose, Lettering.Ink)) + 60;
        y = Told(group, exercise, width, y);
        if (isRow) boxes.Row(group, Width, y);
        y = Stacked(group, 0, y, reference);
        return isRow ? y : Math.Max(y, boxes.Column(group, (WordsShare * Width) + 700, Width, top));
    }

    private double Told(XElement group, Exercise exercise, double width, double y)
    {
        foreach (var line in new[] { exercise.Reason, exercise.Demand }.Where(l => l.Length > 0))
            y = Stacked(group, 0, y, letters.Paragraph(Face.Page, 9.5, width, line, Lettering.Ink)) + 60;
        return y;
    }

    private double Words(XElement group, Exercise exercise, double width, double y)
    {
        y = Stacked(group, 0, y, letters.Paragraph(Face.PageItalic, 10, width, exercise.Purpose, Lettering.Ink)) + 60;
        y = Told(group, exercise, width, y);
        for (var i = 0; i < exercise.Practice.Length; i++)
            y = Stacked(group, 0, y, letters.Paragraph(Face.Page, 9.5, width, exercise.Practice[i], Lettering.Ink, $"{i + 1}.")) + 60;
        return y - 60;
    }

    private static string Measures(Exercise exercise)
    {
        var minutes = exercise.Minutes <= 1 ? "about a minute" : $"about {exercise.Minutes:0} minutes";
        return string.Join("  ·  ", new[] { exercise.Key, exercise.RangeWords, exercise.IsBFlatTreble ? "sounds a major ninth lower" : "", $"{minutes} with rests" }.Where(t => t.Length > 0));
    }

    private static double Stacked(XElement group, double x, double y, Block block)
    {
        group.Add(Print.At(x, y, block.Drawing));
        return y + block.Height;
    }
}
