using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Instruments;
using Seamwright.Engraving;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pdf;

namespace Seamwright.Tests.Engraving;

/// <summary>Nothing that the sheet adds touches anything else, over twelve parts and both papers.</summary>
public class CollisionTests
{
    private static readonly string[] Added = ["position", "mark", "syllable", "lyric", "heading", "voltaBracket"];

    public static TheoryData<string, Paper> Sheets()
    {
        var data = new TheoryData<string, Paper>();
        foreach (var name in TestParts.Texts.Keys.Order())
        {
            data.Add(name, Paper.A4);
            data.Add(name, Paper.Letter);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Boxes_of_added_things_meet_no_other_box(string name, Paper paper) =>
        Assert.Empty(Overlaps(Make(name, paper)));

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Drawn_by_another_program_added_things_share_no_dot_with_the_rest(string name, Paper paper)
    {
        if (!OutsideProgram.IsInstalled("pdftoppm")) Assert.Skip("pdftoppm is missing: install poppler-utils.");
        var sheet = Make(name, paper);
        var (added, rest) = (Drawn(sheet, paper, keepAdded: true), Drawn(sheet, paper, keepAdded: false));
        Assert.NotEmpty(added);
        for (var page = 0; page < added.Count; page++)
        {
            Assert.Equal(added[page].Length, rest[page].Length);
            Assert.Equal(0, Enumerable.Range(20, added[page].Length - 20).Count(i => added[page][i] < 128 && rest[page][i] < 128));
            Assert.Contains(added[page], dot => dot == 0);
        }
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void Breath_marks_touch_nothing_but_staff_lines(string name, Paper paper)
    {
        foreach (var page in Make(name, paper).Pages.Select(p => XElement.Parse(p)))
        {
            var ink = Reader(page);
            foreach (var system in page.Descendants().Where(e => e.Attribute("class")?.Value == "system"))
            {
                var rest = ink.Of(Without(system, e => e.Attribute("class")?.Value == "breath" || (e.Name.LocalName == "path" && e.Parent?.Attribute("class")?.Value == "staff")));
                var breaths = system.Descendants().Where(e => e.Attribute("class")?.Value == "breath").SelectMany(ink.Of);
                Assert.All(breaths, b => Assert.DoesNotContain(rest, b.Overlaps));
            }
        }
    }

    [Theory]
    [InlineData("key=-2 3[ F3:8( G3:8 A3:8 ]3 3[ Bb3:8 A3:8 G3:8 ]3 3[ D3:8 Eb3:8 F3:8 ]3 3[ G3:8 F3:8 E3:8) ]3 |")]
    [InlineData("clef=Tenor 3[ Bb3:8( C4:8 D4:8 ]3 3[ F4:8 G4:8 A4:8 ]3 3[ E3:8 F3:8 G3:8 ]3 dyn=mf 3[ C4:8 D4:8 C4:8) ]3 |")]
    public void Numbers_of_triplets_stand_clear_of_the_staff_and_of_each_other_thing(string text)
    {
        var part = PartBuilder.Parse("", text);
        var page = XElement.Parse(SharedEngraver.Sheet(part, TestPlans.For(part)).Pages[0]);
        var ink = Reader(page);
        var system = page.Descendants().Single(e => e.Attribute("class")?.Value == "system");
        var numbers = system.Descendants().Where(e => e.Attribute("class")?.Value == "tupletNum").SelectMany(ink.Of).ToList();
        Assert.Equal(4, numbers.Count);
        var rest = ink.Of(Without(system, e => e.Attribute("class")?.Value == "tupletNum"));
        Assert.All(numbers, n => Assert.DoesNotContain(rest, n.Overlaps));
    }

    [Fact]
    public void Rows_keep_their_order_even_where_they_have_gaps()
    {
        var part = PartBuilder.Parse("", "tempo=Slow@50 r:1 | r:1 | r:1 | D4:4( C4:4) r:2 | E5:4 D5:4 r:2 |");
        var sung = part with { Bars = [.. part.Bars.Select(b => b with { Events = [.. b.Events.Select(e => e is Core.Scores.Note { Id: "n4-1" } n ? n with { Lyric = "la" } : e)] })] };
        var page = XElement.Parse(SharedEngraver.Sheet(sung, TestPlans.For(sung)).Pages[0]);
        var order = new[] { "heading", "position", "mark", "syllable", "lyric" };
        var rows = order.Select(k => page.Descendants().Where(e => e.Attribute("class")?.Value == k).SelectMany(Reader(page).Of).ToList()).ToList();
        Assert.All(rows, r => Assert.NotEmpty(r));
        Assert.All(rows.Zip(rows.Skip(1)), p => Assert.True(p.First.Max(b => b.Bottom) < p.Second.Min(b => b.Top) + 90));
    }

    [Fact]
    public void The_check_sees_a_collision_that_is_made_on_purpose()
    {
        var page = XElement.Parse(Make("song", Paper.A4).Pages[0]);
        Assert.Empty(Overlaps(page));
        var mark = page.Descendants().First(e => e.Attribute("class")?.Value == "mark");
        mark.SetAttributeValue("transform", page.Descendants().First(e => e.Attribute("class")?.Value == "syllable").Attribute("transform")!.Value);
        Assert.NotEmpty(Overlaps(page));
    }

    [Fact]
    public void Nothing_is_printed_outside_the_margins_or_over_the_foot()
    {
        var sheet = SharedEngraver.Sheet(TestParts.Long(120), TestPlans.For(TestParts.Long(120)));
        foreach (var page in sheet.Pages.Select(p => XElement.Parse(p)))
        {
            var ink = Reader(page);
            var systems = page.Elements().Where(e => e.Attribute("class")?.Value == "music").SelectMany(ink.Of).ToList();
            var around = Box.Around(systems)!.Value;
            Assert.InRange(around.Left, 1200, 1600);
            Assert.InRange(around.Right, 19000, 19600);
            Assert.InRange(around.Bottom, 0, 27700);
            var head = page.Descendants().First(e => e.Attribute("class")?.Value == "head");
            Assert.True(Box.Around(ink.Of(head))!.Value.Bottom < around.Top, "The head reaches into the music.");
        }
    }

    /// <summary>Every overlap on a sheet, as text.</summary>
    internal static IEnumerable<string> Overlaps(EngravedSheet sheet) => sheet.Pages.SelectMany(p => Overlaps(XElement.Parse(p)));

    private static IEnumerable<string> Overlaps(XElement page)
    {
        var ink = Reader(page);
        var systems = page.Descendants().Where(e => e.Attribute("class")?.Value == "system");
        foreach (var system in systems)
        {
            var added = system.Descendants().Where(IsAdded).Select(e => (Name: NameOf(e), Boxes: ink.Of(e).Select(b => b.Grown(-12)).ToList())).ToList();
            var rest = Without(system, IsAdded);
            var other = ink.Of(rest);
            foreach (var item in added)
            {
                if (item.Boxes.Any(b => other.Any(b.Overlaps))) yield return $"{item.Name} meets the music";
                foreach (var second in added.Where(a => string.CompareOrdinal(a.Name, item.Name) > 0))
                    if (item.Boxes.Any(b => second.Boxes.Any(b.Overlaps))) yield return $"{item.Name} meets {second.Name}";
            }
        }
    }

    private static string NameOf(XElement e) => $"{e.Attribute("class")!.Value} {e.Attribute("id")?.Value}";

    private static bool IsAdded(XElement e) => Added.Contains(e.Attribute("class")?.Value);

    private static InkReader Reader(XElement page)
    {
        var reader = new InkReader(SharedEngraver.Fonts);
        reader.Learn(page.Elements().Single(e => e.Name.LocalName == "defs"));
        return reader;
    }

    private static XElement Without(XElement e, Func<XElement, bool> which)
    {
        var copy = new XElement(e);
        foreach (var hit in copy.Descendants().Where(which).ToList()) hit.Remove();
        return copy;
    }

    private static EngravedSheet Make(string name, Paper paper)
    {
        var part = TestParts.Named(name);
        var instrument = name switch { "low" => Catalogue.Find("bass-independent")!, "high" => Catalogue.Find("alto-eb-bb")!, _ => Catalogue.Default };
        return SharedEngraver.Sheet(part, TestPlans.For(part, instrument, repeatDiffers: name == "repeats"), new() { Paper = paper, TeacherLine = "For the Thursday group" });
    }

    private static IReadOnlyList<byte[]> Drawn(EngravedSheet sheet, Paper paper, bool keepAdded)
    {
        var pages = sheet.Pages.Select(p => new XDocument(keepAdded ? OnlyAdded(XElement.Parse(p)) : Without(XElement.Parse(p), IsAdded)));
        using var stream = new MemoryStream();
        PdfBook.Write(stream, [.. pages], PageSize.Of(paper), SharedEngraver.Fonts, new BookWords("", "", ""), null);
        return Tool.Pictures(stream.ToArray(), 200);
    }

    /// <summary>The page with everything taken out that is neither added nor around something added.</summary>
    private static XElement OnlyAdded(XElement page)
    {
        var kept = page.Descendants().Where(IsAdded).SelectMany(e => e.DescendantsAndSelf().Concat(e.Ancestors())).ToHashSet();
        foreach (var e in page.Elements().Where(e => e.Name.LocalName != "defs").SelectMany(e => e.DescendantsAndSelf()).Where(e => !kept.Contains(e)).ToList()) e.Remove();
        return page;
    }
}
