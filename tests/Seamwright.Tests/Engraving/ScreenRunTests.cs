using Seamwright.Core.Scores;
using Seamwright.Engraving;

namespace Seamwright.Tests.Engraving;

public class ScreenRunTests
{
    private const int Wide = 24_000;

    /// <summary>The engraver rounds to a hundredth of a staff space at several places.</summary>
    private const double HundredthsApart = 5;

    // Every sign that can reach over a cut: slurs, hairpins, ties, glissandi, endings, sections, long rests, changes of key and meter.
    private static Part Long()
    {
        var text = string.Join(" ", new[] { "song", "repeats", "rests", "dynamics", "slides", "busy", "song", "repeats", "tuplets", "busy", "rests", "busy", "dynamics", "song" }.Select(n => TestParts.Texts[n].Replace(" pickup", "", StringComparison.Ordinal)));
        var part = PartBuilder.Parse("Trombone", text);
        var last = part.Notes.Last(n => n.Grace == Grace.None);
        var before = part.Notes.Where(n => n.Grace == Grace.None).TakeLast(90).First();
        return part with { Slurs = [.. part.Slurs, new Span(before.Id, last.Id)], Bars = [.. part.Bars.Select(b => b.Index == 40 ? b with { Section = "Second time" } : b)] };
    }

    private static List<ScreenMusic> Runs(Part part)
    {
        var maker = new ScreenMaker(SharedEngraver.Instance);
        var runs = new List<ScreenMusic>();
        for (ScreenPlace? place = ScreenPlace.Beginning; place is { } at; place = runs[^1].Next) runs.Add(maker.MakeFrom(part, TestPlans.For(part), new(), Wide, at));
        return runs;
    }

    [Fact]
    public void Runs_of_systems_are_the_systems_of_the_whole()
    {
        var part = Long();
        var whole = new ScreenMaker(SharedEngraver.Instance).Make(part, TestPlans.For(part), new(), Wide);
        var runs = Runs(part);
        Assert.True(runs.Count > 2, $"{runs.Count} runs show nothing.");
        var systems = runs.SelectMany(r => r.Systems).ToList();
        Assert.Equal(whole.Systems.Select(s => s.Places.Bars[0].Index), systems.Select(s => s.Places.Bars[0].Index));
        foreach (var (expected, made) in whole.Systems.Zip(systems))
        {
            Assert.Equal(Signs(expected), Signs(made));
            Assert.Equal(Boxes(expected), Boxes(made), (a, b) => Math.Abs(a - b) < HundredthsApart);
        }
    }

    [Fact]
    public void No_bar_is_lost_where_the_engraver_broke_otherwise_before()
    {
        var part = Long();
        var music = new ScreenMaker(SharedEngraver.Instance).MakeFrom(part, null, new(), Wide, new ScreenPlace(11, 10));
        Assert.Equal(11, music.Systems[0].Places.Bars[0].Index);
    }

    [Fact]
    public void A_place_where_no_system_begins_is_engraved_all_the_same()
    {
        var part = Long();
        var music = new ScreenMaker(SharedEngraver.Instance).MakeFrom(part, null, new(), Wide, new ScreenPlace(11, 11));
        Assert.Equal(11, music.Systems[0].Places.Bars[0].Index);
    }

    [Theory]
    [InlineData(-1, -1)]
    [InlineData(3, 4)]
    [InlineData(1000, 0)]
    public void A_place_outside_the_part_is_refused(int bar, int since) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new ScreenMaker(SharedEngraver.Instance).MakeFrom(TestParts.Long(8), null, new(), Wide, new ScreenPlace(bar, since)));

    // What is drawn, without where: the engraver's endless page puts the same system at another height.
    private static List<string> Signs(ScreenSystem system) =>
        [.. system.Drawing.Descendants().Where(e => e.Name.LocalName != "g").Select(e => $"{e.Parent!.Attribute("class")?.Value.Split(' ')[0]} {e.Name.LocalName} {(e.HasElements ? "" : e.Value)}").Order(StringComparer.Ordinal)];

    // Edges of the staff and of all ink, and how high every note head stands, from left to right. How far apart they are depends a little on
    // the longest note of all that the engraver lays out.
    private static List<double> Boxes(ScreenSystem system)
    {
        var (places, top) = (system.Places, system.Places.Staff.Top);
        return [.. new[] { places.Staff, places.Ink }.SelectMany(b => new[] { b.Left, b.Right }), places.Staff.Bottom - top, .. places.Heads.Values.OrderBy(h => h.Left).Select(h => h.Top - top)];
    }
}
