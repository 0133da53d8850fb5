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
    private readonly Lettering letters = new(fonts);
    private readonly Dictionary<string, int> told = new(StringComparer.Ordinal);
    private readonly SheetOptions look = new() { Syllable = options.Syllable };

    private double Width => size.TextWidth;

    /// <summary>What stands around its notes.</summary>
    public ImmutableDictionary<string, NoteGuide> Guides(Exercise exercise) => PlanGuide.Of(exercise.Part, exercise.Plan, look);

    /// <summary>Its pieces from top to bottom.</summary>
    /// <param name="exercise">With music.</param>
    /// <param name="entry">Its place in the book, from 0.</param>
    public IReadOnlyList<Piece> Pieces(Exercise exercise, int entry)
    {
        var music = new SystemEngraver(engraver, fonts).Engrave(exercise.IsPiece ? Untimed(exercise.Part) : Plain(exercise.Part), look, Guides(exercise), (int)(Width / options.MusicSize), keepsSlurs: !exercise.IsPiece);
        return [Head(exercise, entry), .. music.Systems.Select((s, i) => System(music, s, i)), Rest(exercise)];
    }

    // The tempos stand in the head as boxes to tick; bars need no numbers.
    private static Part Plain(Part part) => part with { Bars = [.. part.Bars.Select(b => b with { Number = "", Tempos = [] })] };

    // A piece keeps what changes its tempo on the way.
    private static Part Untimed(Part part) => part with { Bars = part.Bars.SetItem(0, part.Bars[0] with { Tempos = [.. part.Bars[0].Tempos.Where(t => t.Offset > Beats.Zero)] }) };

    private Piece System(EngravedSystems music, DressedSystem system, int index)
    {
        var drawing = Print.Element("g", Print.Is("transform", $"scale({Print.Number(options.MusicSize)}, {Print.Number(options.MusicSize)})"), Print.At(0, -system.Top, system.Drawing));
        var begins = system.Drawing.Descendants(Print.Ns + "text").Any(t => t.Parent?.Attribute("class")?.Value == "section-heading");
        return new Piece(drawing, system.Height * options.MusicSize)
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
        var words = string.Join('\n', exercise.Practice.Prepend(exercise.Purpose));
        if (!told.TryAdd(words, entry) && !options.RepeatsWords) return Head(exercise, entry, told[words]);
        return Head(exercise, entry, null) with { Words = words, Short = before => Head(exercise, entry, before) };
    }

    /// <param name="exercise">Whose.</param>
    /// <param name="entry">Its place in the book, from 0.</param>
    /// <param name="before">The exercise that has the same words; null to tell them.</param>
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
        return new Piece(group, Math.Max(Words(group, exercise, before, y), Tempos(group, exercise.Tempos, t => TempoWords.Of(exercise.Part, t), y))) { Before = UnitGap, Stretch = UnitStretch, Entry = entry };
    }

    private double Words(XElement group, Exercise exercise, int? before, double y)
    {
        var width = WordsShare * Width;
        if (before is null) y = Stacked(group, 0, y, letters.Paragraph(Face.PageItalic, 10, width, exercise.Purpose, Lettering.Ink)) + 60;
        foreach (var line in new[] { exercise.Reason, exercise.Demand }.Where(l => l.Length > 0))
            y = Stacked(group, 0, y, letters.Paragraph(Face.Page, 9.5, width, line, Lettering.Ink)) + 60;
        if (before is { } same) return Stacked(group, 0, y, letters.Paragraph(Face.PageItalic, 10, width, $"Practise it as number {same + 1}.", Lettering.Ink));
        for (var i = 0; i < exercise.Practice.Length; i++)
            y = Stacked(group, 0, y, letters.Paragraph(Face.Page, 9.5, width, exercise.Practice[i], Lettering.Ink, $"{i + 1}.")) + 60;
        return y - 60;
    }

    /// <summary>A box to tick for each tempo.</summary>
    private double Tempos(XElement group, ImmutableArray<double> tempos, Func<double, string> words, double y)
    {
        const double Points = 9.5, Em = Points * PageSize.Point, Box = 0.82 * Em, Line = 1.75 * Em;
        var left = (WordsShare * Width) + 700;
        y = Stacked(group, left, y, letters.Paragraph(Face.PageItalic, 8.5, Width - left, tempos.Length == 1 ? "Tick it when it is easy." : "Tick a tempo when it is easy, then take the next.", Lettering.Faint)) + 60;
        var cell = Box + (0.5 * Em) + tempos.Max(t => letters.Width(Face.Page, Points, words(t))) + (1.1 * Em);
        var most = Math.Max(1, (int)((Width - left + (1.1 * Em)) / cell));

        // No row with one box where the others could give it some.
        var rows = (tempos.Length + most - 1) / most;
        var across = (tempos.Length + rows - 1) / rows;
        for (var i = 0; i < tempos.Length; i++)
        {
            var (x, baseline) = (left + (i % across * cell), y + (i / across * Line) + Em);
            group.Add(Print.Element("rect", Print.Is("x", x), Print.Is("y", baseline - Box + (0.06 * Em)), Print.Is("width", Box), Print.Is("height", Box), Print.Is("fill", "none"), Print.Is("stroke", "currentColor"), Print.Is("stroke-width", 18)));
            group.Add(Lettering.Word(Face.Page, Points, x + Box + (0.5 * Em), baseline, words(tempos[i]), Lettering.Ink));
        }

        return y + (rows * Line);
    }

    private static string Measures(Exercise exercise)
    {
        var minutes = exercise.Minutes <= 1 ? "about a minute" : $"about {exercise.Minutes:0} minutes";
        var range = exercise.Range.Low == exercise.Range.High ? exercise.Range.Low.ToDisplay() : $"{exercise.Range.Low.ToDisplay()} to {exercise.Range.High.ToDisplay()}";
        var sounding = exercise.Part.Bars[0].Clefs.Any(c => c.Clef == Clef.TrebleBb) ? "sounding " : "";
        return string.Join("  ·  ", new[] { exercise.Key.Length > 0 ? sounding + exercise.Key : "", sounding + range, $"{minutes} with rests" }.Where(t => t.Length > 0));
    }

    private static double Stacked(XElement group, double x, double y, Block block)
    {
        group.Add(Print.At(x, y, block.Drawing));
        return y + block.Height;
    }
}
