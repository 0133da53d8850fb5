using System.Xml.Linq;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Engraving;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Notation;
using Seamwright.Engraving.Pages;

namespace Seamwright.Tests.Engraving;

public class SectionTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Default, level: 4);

    private static Exercise Made(ExerciseOrder order) => ExerciseMaker.Make(order, Grown).Value.Exercises[0];

    private static EngravedSheet Sheet(Exercise e, SheetOptions? look = null) => SharedEngraver.Sheet(e.Part, e.Plan, look, e.Score);

    private static string Words(EngravedSheet sheet) => string.Join('\n', sheet.Pages.SelectMany(p => XDocument.Parse(p).Descendants()).Where(e => e.Name.LocalName == "text").Select(e => e.Value));

    private static Part Sectioned(int bars, params int[] starts)
    {
        var part = TestParts.Long(bars);
        return part with { Bars = [.. part.Bars.Select(b => starts.Contains(b.Index) ? b with { Section = $"Part from {b.Index}" } : b)] };
    }

    [Fact]
    public void Every_section_begins_a_system_under_its_heading()
    {
        var part = Sectioned(30, 0, 2, 13, 27);
        var sheet = SharedEngraver.Sheet(part);
        var begins = sheet.Systems.Select(s => s.Bars[0].Index).ToList();
        Assert.All([0, 2, 13, 27], start => Assert.Contains(start, begins));
        Assert.Equal(Enumerable.Range(0, 30), sheet.Systems.SelectMany(s => s.Bars.Select(b => b.Index)));
        Assert.All([0, 2, 13, 27], start => Assert.Contains($"Part from {start}", Words(sheet)));
    }

    [Theory]
    [InlineData(9_000)]
    [InlineData(18_000)]
    public void A_heading_wider_than_its_system_takes_a_second_line(int width)
    {
        var exercise = Made(new() { Kind = "three-passes" });
        var systems = new SystemEngraver(SharedEngraver.Instance, SharedEngraver.Fonts).Engrave(exercise.Part, new(), PlanGuide.Of(exercise.Part, exercise.Plan, new()), width, keepsSlurs: true).Systems;
        var headings = systems.SelectMany(s => s.Drawing.Descendants()).Where(g => g.Attribute("class")?.Value == "section-heading").Select(g => g.Elements().ToList()).ToList();
        Assert.Equal("Third time: fast slide and the soft tongue, no smear left", string.Join(' ', headings[2].Select(t => t.Value)));
        Assert.Equal(width < 10_000 ? 2 : 1, headings[2].Count);
        foreach (var line in headings.SelectMany(h => h)) Assert.InRange(TextPiece.Width(TextPiece.Of(line), SharedEngraver.Fonts), 1, width);
    }

    [Fact]
    public void A_figure_on_one_breath_is_read_in_one_line_where_an_exercise_has_room()
    {
        var cut = 0;
        foreach (var exercise in ExerciseMaker.Make(new ExerciseOrder { Kind = "two-notes" }, Grown).Value.Exercises)
        {
            var inside = WholeSlurs.BarsInside(exercise.Part);
            Assert.NotEmpty(inside);
            Assert.DoesNotContain(Begins(exercise, keepsSlurs: true), inside.Contains);
            cut += Begins(exercise, keepsSlurs: false).Count(inside.Contains);
        }

        Assert.True(cut > 0, "The engraver's own lines cut no slur: nothing was shown.");
    }

    private static List<int> Begins(Exercise exercise, bool keepsSlurs) =>
        [.. new SystemEngraver(SharedEngraver.Instance, SharedEngraver.Fonts).Engrave(exercise.Part, new(), PlanGuide.Of(exercise.Part, exercise.Plan, new()), 18_000, keepsSlurs).Systems
            .Select(s => s.Drawing.Elements().Select(g => g.Attribute("id")?.Value ?? "").First(id => id.StartsWith(PlaceId.Bar, StringComparison.Ordinal))).Select(id => int.Parse(id[PlaceId.Bar.Length..]))];

    [Fact]
    public void No_section_ends_with_a_single_bar_after_a_full_system()
    {
        var mended = 0;
        for (var second = 4; second <= 12; second++)
        {
            var part = Sectioned(second + 9, second);
            var systems = SharedEngraver.Sheet(part).Systems;
            for (var i = 1; i < systems.Length; i++)
            {
                var isLast = i + 1 == systems.Length || systems[i + 1].Bars[0].Index == second;
                if (!isLast || systems[i].Bars[0].Index == second) continue;
                Assert.False(systems[i].Bars.Length == 1 && systems[i - 1].Bars.Length >= 3, $"section at {second}: bar {systems[i].Bars[0].Index} stands alone");
                mended++;
            }
        }

        Assert.True(mended > 5);
    }

    [Fact]
    public void A_slur_over_its_beginning_keeps_a_section_in_the_music_before()
    {
        var part = Sectioned(12, 6);
        var (last, first) = (part.Bars[5].Events.OfType<Note>().Last(), part.Bars[6].Events.OfType<Note>().First());
        var slurred = part with { Slurs = [.. part.Slurs, new Span(last.Id, first.Id)] };
        Assert.Equal([0, 6], Sections.Of(part));
        Assert.Equal([0], Sections.Of(slurred));
        var sheet = SharedEngraver.Sheet(slurred);
        Assert.Equal(12, sheet.Systems.Sum(s => s.Bars.Length));
        Assert.Contains("Part from 6", Words(sheet));
    }

    [Fact]
    public void Sections_come_back_from_a_file_and_print_as_before()
    {
        var exercise = Made(new ExerciseOrder { Kind = "three-passes" });
        using var file = new MemoryStream();
        MusicXmlWriter.Write(exercise.Score, null, file);
        file.Position = 0;
        var read = MusicXmlReader.Read(file, "exercise.musicxml").Value;
        Assert.Equal(exercise.Part.Bars.Select(b => b.Section), read.Parts[0].Bars.Select(b => b.Section));
        var plan = Planner.Plan(Unfolder.Play(read.Parts[0], "").Value, Catalogue.Default).Value;
        Assert.Equal(Words(Sheet(exercise)), Words(SharedEngraver.Sheet(read.Parts[0], plan, null, exercise.Score)));
    }

    [Fact]
    public void A_slow_slide_a_fast_slide_and_a_soft_tongue_have_each_their_sign()
    {
        var exercise = ExerciseMaker.Make(new ExerciseOrder { Kind = "three-passes" }, Pupil.Of(Catalogue.Find("tenor-straight")!, level: 4)).Value.Exercises[0];
        var text = Words(Sheet(exercise));
        Assert.All(["glissando up, slide heard", "fast slide up, no tongue", "fast slide down, no tongue", "soft tongue, “du”"], w => Assert.Contains(w, text));
        var tongued = exercise.Plan.Changes.Count(c => c.Kind == ChangeKind.SoftTongue);
        Assert.Equal(tongued, text.Split('\n').Count(l => l == "du"));
    }

    [Fact]
    public void An_imagined_tongue_stands_in_brackets_on_every_beat_and_touches_only_at_first()
    {
        var text = Words(Sheet(Made(new ExerciseOrder { Kind = "one-note", Touches = [3, 4] }), new() { Syllable = "loo" })).Split('\n');
        Assert.Equal(8, text.Count(l => l == "(loo)") - 1);
        Assert.Equal(8, text.Count(l => l == "loo"));
        Assert.Contains("only imagine the tongue", text);
    }

    [Fact]
    public void Imagined_beats_stand_apart()
    {
        var page = XDocument.Parse(Sheet(Made(new ExerciseOrder { Kind = "one-note" })).Pages[0]);
        var lefts = page.Descendants().Where(e => e.Attribute("id")?.Value is { } id && (id.StartsWith(PlaceId.Beat, StringComparison.Ordinal) || id.StartsWith(PlaceId.Syllable, StringComparison.Ordinal)))
            .Where(e => e.Value == "(du)").Select(e => double.Parse(e.Attribute("transform")!.Value.Split('(', ',')[1], System.Globalization.CultureInfo.InvariantCulture)).Order().ToList();
        Assert.Equal(8, lefts.Count);
        Assert.All(lefts.Zip(lefts.Skip(1)), p => Assert.True(p.Second - p.First > 550, $"{p.First} and {p.Second} touch"));
    }
}
