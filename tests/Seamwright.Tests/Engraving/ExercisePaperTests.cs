using System.Text.RegularExpressions;
using System.Xml.Linq;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Book;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Tests.Exercises;

namespace Seamwright.Tests.Engraving;

/// <summary>How exercises lie on paper: lines, labels, boxes.</summary>
public partial class ExercisePaperTests
{
    private static readonly Pupil Bass = Pupil.Of(Catalogue.Find("bass-dependent-eb")!, level: 6);

    // Lines as wide as an A4 page's text, in notes of full size.
    private static readonly int Line = PageSize.Of(Paper.A4).TextWidth;

    private static System.Collections.Immutable.ImmutableArray<DressedSystem> Systems(Exercise e, int? width = null) =>
        new SystemEngraver(SharedEngraver.Instance, SharedEngraver.Fonts).Engrave(e.Part, new(), PlanGuide.Of(e.Part, e.Plan, new()), width ?? Line, keepsSlurs: true).Systems;

    private static IReadOnlyList<int> Bars(DressedSystem system) => [.. system.Places.Bars.Select(b => b.Index)];

    [Theory]
    [InlineData("three-passes")]
    [InlineData("lip-slurs")]
    public void No_line_holds_only_rests(string kind)
    {
        foreach (var exercise in Made.Of(new() { Kind = kind }, Bass))
        {
            var lines = Systems(exercise);
            Assert.All(lines, s => Assert.Contains(Bars(s), b => exercise.Part.Bars[b].Events.OfType<Note>().Any()));
        }
    }

    [Fact]
    public void A_figure_that_has_room_in_one_line_is_not_torn()
    {
        foreach (var exercise in Made.Of(new() { Kind = "lip-slurs" }, Bass))
        {
            var inside = WholeSlurs.BarsInside(exercise.Part);
            Assert.All(Systems(exercise), s => Assert.DoesNotContain(Bars(s)[0], inside));
        }
    }

    [Fact]
    public void Neighbouring_positions_stand_apart()
    {
        // Two octaves in eighth notes with valves: the widest labels on the shortest notes.
        var pupil = Pupil.Of(Catalogue.Find("bass-independent")!, level: 5);
        var scale = Made.Of(new() { Kind = "scales", Keys = [new KeyName(new PitchName(Step.D, -1), null)], Octaves = 2, Register = Register.Low }, pupil)[0];
        var gaps = Systems(scale, (int)(Line / 0.88)).SelectMany(GapsOf).ToList();
        Assert.NotEmpty(gaps);
        Assert.True(gaps.Min() >= 90, $"Two positions are {gaps.Min():0} hundredths of a millimetre apart.");
    }

    [Fact]
    public void Tempos_share_their_rows_evenly()
    {
        var exercise = Made.Of(new() { Kind = "lip-slurs", Tempos = [66, 84, 102, 120] }, Bass)[0];
        var rows = Head(exercise).Descendants(Print.Ns + "rect").GroupBy(r => r.Attribute("y")!.Value).Select(g => g.Count()).ToList();
        Assert.Equal(4, rows.Sum());
        Assert.True(rows.Max() - rows.Min() <= 1, string.Join(", ", rows));
    }

    [Fact]
    public void Tempos_count_the_beat_of_the_meter()
    {
        var tune = Made.Melody("mill-race");
        Assert.Equal(6, tune.Part.Bars[0].Meter.Beats);
        var phrase = Made.Of(new() { Kind = "both-ways", Tune = tune, Count = 1 }, Pupil.Of(Catalogue.Default, level: 5))[0];
        var text = Words(Head(phrase));
        Assert.Contains($"♩. = {Math.Round(phrase.Tempos[0] / 1.5)}", text);
        Assert.DoesNotMatch(PlainBeat(), text);

        // Two notes alone in four-four, then bars of the tune: both beats are told.
        var ladder = Made.Of(new() { Kind = "from-tune", Tune = tune, Count = 1 }, Pupil.Of(Catalogue.Default, level: 5))[0];
        Assert.Matches(PlainBeat(), Words(Head(ladder)));
        Assert.Contains("♩. = ", Words(Head(ladder)));
    }

    [Fact]
    public void Music_that_has_not_quite_room_on_a_page_is_a_little_smaller()
    {
        var print = new ExercisePrint(SharedEngraver.Instance, new BookOptions(), PageSize.Of(Paper.A4), SharedEngraver.Fonts, isNumbered: true);
        var exercise = Made.Of(new() { Kind = "lip-slurs" }, Pupil.Of(Catalogue.Default, level: 5))[0];
        double Height(Func<double, bool> fits) => HeightOf(print.Pieces(exercise, 0, p => fits(HeightOf(p))));
        var usual = Height(_ => true);
        var smaller = Height(h => h < usual);
        var smallest = Height(h => h < smaller);
        Assert.InRange(smaller, 0.8 * usual, 0.99 * usual);
        Assert.InRange(smallest, 0.8 * smaller, 0.99 * smaller);
        Assert.Equal(usual, Height(_ => false));

        static double HeightOf(IReadOnlyList<Piece> pieces) => pieces.Sum(p => p.Height);
    }

    private static XElement Head(Exercise exercise) =>
        new ExercisePrint(SharedEngraver.Instance, new BookOptions(), PageSize.Of(Paper.A4), SharedEngraver.Fonts, isNumbered: true).Pieces(exercise, 0, _ => true)[0].Drawing;

    private static string Words(XElement drawing) => string.Join('\n', drawing.Descendants(Print.Ns + "text").Select(t => t.Value));

    private static IEnumerable<XElement> Positions(DressedSystem system) => system.Drawing.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "position");

    private static IEnumerable<double> GapsOf(DressedSystem system)
    {
        var ends = Positions(system).Select(p =>
        {
            var x = Transform.Read(p.Attribute("transform")!.Value).Of(0, 0).X;
            var half = TextPiece.Width(TextPiece.Of(p.Descendants(Print.Ns + "text").Single()), SharedEngraver.Fonts) / 2;
            return (Left: x - half, Right: x + half);
        }).OrderBy(p => p.Left).ToList();
        return ends.Zip(ends.Skip(1), (a, b) => b.Left - a.Right);
    }

    [GeneratedRegex("♩ = ")]
    private static partial Regex PlainBeat();
}
