using System.Net;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Diagnoses;

/// <summary>The report as an HTML page, without the engraved line.</summary>
public partial class ReportPageTests
{
    private static readonly InventedTake Invented = InventedTake.WithEveryFault();
    private static readonly InventedTake Everything = InventedTake.WithEverythingMeasured();

    [Fact]
    public void Parts_that_do_not_belong_together_are_the_callers_mistake() =>
        Assert.Throws<ArgumentException>(() => Page(Invented with { Take = Invented.Take with { Notes = [] } }));

    [Fact]
    public void The_page_is_well_formed_but_for_the_tags_that_html_never_closes()
    {
        var root = Parsed(Page(InventedTake.WithEveryFault(3)));
        Assert.Equal("en", root.Attribute("lang")!.Value);
        Assert.Single(root.Descendants("h1"));
        Assert.Equal(["first", "changes", "notes", "unknown", "table", "measures"], root.Descendants("h2").Select(h => h.Attribute("id")!.Value));
        Assert.All(root.Descendants("svg").Where(s => (string?)s.Attribute("role") == "img"), s => Assert.Equal(s.Element("title")!.Value, s.Attribute("aria-label")!.Value));
        Assert.All(root.Descendants("th"), h => Assert.Equal("col", h.Attribute("scope")!.Value));
    }

    [Fact]
    public void There_is_one_picture_for_each_change_to_mend_and_none_for_a_clean_one_or_one_that_cannot_be_told()
    {
        var troubled = Invented.Diagnosis.Changes.Where(c => c.Verdicts.Any(v => v is not (Verdict.Clean or Verdict.CannotTell))).ToList();
        Assert.True(troubled.Count > 5);
        Assert.Contains(Invented.Diagnosis.Changes, c => c.Verdicts.Contains(Verdict.CannotTell));
        var root = Parsed(Page(Invented));
        var cards = root.Descendants("article").ToList();
        Assert.Equal(troubled.Count, cards.Count);
        Assert.All(cards, c => Assert.Single(c.Elements("svg")));
        Assert.Equal(troubled.Count, root.Descendants("svg").Count(s => (string?)s.Attribute("class") == "picture"));
        foreach (var (card, change) in cards.Zip(troubled))
        {
            var planned = Invented.Plan.Changes[change.Index];
            Assert.Contains(TakeParts.PlaceOf(Invented.Plan, planned), card.Value.Replace("Bar", "bar", StringComparison.Ordinal));
            Assert.Contains(change.Advice, card.Value);
            Assert.All(change.Verdicts, v => Assert.Contains(v.Words(), card.Value));
        }

        Assert.DoesNotContain("<article", Page(InventedTake.Clean()));
    }

    [Fact]
    public void Every_verdict_on_the_page_has_a_shape_and_a_word()
    {
        var marks = Parsed(Page(Invented)).Descendants("span").Where(s => ((string?)s.Attribute("class"))?.StartsWith("verdict", StringComparison.Ordinal) == true).ToList();
        Assert.True(marks.Count > Invented.Plan.Changes.Length);
        var outlines = Enum.GetValues<Verdict>().Select(v => VerdictMarks.Of(v).Outline).ToHashSet();
        Assert.All(marks, m => Assert.Contains(m.Element("svg")!.Element("path")!.Attribute("d")!.Value, outlines));
        Assert.All(marks, m => Assert.True(m.Value.Trim().Length >= 3));
    }

    [Fact]
    public void Every_verdict_has_a_shape_a_word_and_a_short_word_of_its_own()
    {
        var verdicts = Enum.GetValues<Verdict>();
        Assert.Equal(verdicts.Length, verdicts.Select(v => (VerdictMarks.Of(v).Outline, VerdictMarks.Of(v).Ink)).Distinct().Count());
        Assert.Equal(verdicts.Length, verdicts.Select(v => VerdictMarks.Of(v).Short).Distinct().Count());
        Assert.Equal(verdicts.Length, verdicts.Select(VerdictMarks.Meaning).Distinct().Count());
        Assert.All(verdicts, v => Assert.InRange(VerdictMarks.Of(v).Short.Length, 1, 9));
        Assert.All(verdicts, v => Assert.Contains(v.Words(), VerdictMarks.Inline(v).Text));
    }

    [Fact]
    public void Figures_are_told_with_their_intervals()
    {
        Assert.Equal("62 ms, 55 to 69", Figures.Ms(new(0.062), new(new(0.055), new(0.069))));
        Assert.Equal("62 ms", Figures.Ms(new(0.062), null));
        Assert.Equal("", Figures.Ms(null, null));
        Assert.Equal("", Figures.Ms(new(double.NaN), null));
        Assert.Equal("−90 ms, −91 to −88", Figures.Ms(new(-0.09), new(new(-0.091), new(-0.088)), Figures.Signed));
        var page = Page(Everything);
        var change = Everything.Take.Changes.First(c => c.Found && c.Dip is not null && TakeParts.Worst(Everything.Diagnosis.Changes[c.Index].Findings).Gravity() == Gravity.Fault);
        Assert.Contains($"<i>dip</i> {change.Dip!.Value.Value:0.0} dB, {change.DipBounds!.Value.Low.Value:0.0} to {change.DipBounds.Value.High.Value:0.0}", page);
        var note = Everything.Diagnosis.Notes.First(n => n.Cents is not null);
        Assert.Contains($"{note.Cents!.Value.Value:+0;−0;0}, {note.CentsBounds!.Value.Low.Value:+0;−0;0} to {note.CentsBounds.Value.High.Value:+0;−0;0}", page);
    }

    [Fact]
    public void The_arm_attempts_stray_sound_the_room_and_remarks_are_told()
    {
        var page = WebUtility.HtmlDecode(Page(Everything));
        string[] expected =
        [
            "arm's fastest</i> 1.1 m/s, 1.0 to 1.1", "arm's time</i> 320 ms, 300 to 340", "arm went</i> 18.0 cm out", "the slide as planned", "arm half way",
            "an octave down", "told here", "tones that are not in the part here", "reverberation 0.4 s",
        ];
        Assert.All(expected, e => Assert.Contains(e, page));
        Assert.All(Everything.Diagnosis.Notes.SelectMany(n => n.Remarks), r => Assert.Contains(r, page));
        var troubled = Everything.Diagnosis.Changes.Where(Trouble.Is).ToList();
        Assert.All(troubled.SelectMany(c => c.Remarks), r => Assert.Contains(r, page));
        Assert.Contains("What limits these figures", Trouble.Of(Everything.Take with { Changes = [.. Everything.Take.Changes.Select(c => c with { Doubts = [Doubt.Noise] })] }, Everything.Diagnosis, Everything.Plan, Everything.Plan.Changes[0], 1).Remarks[^1]);
    }

    [Fact]
    public void A_picture_has_a_row_for_the_slide_only_where_the_slide_is_known()
    {
        var arm = Everything.Take.Changes.First(c => c.Arm is not null);
        var none = Everything.Take.Changes.First(c => c.Found && c.Arm is null);
        Assert.Equal(3, RowTitles(Everything, arm.Index).Count);
        Assert.Equal(["pitch", "level, dB"], RowTitles(Everything, none.Index));
    }

    [Fact]
    public void Targets_and_limits_are_drawn_and_named_and_the_dip_stands_where_it_was_measured()
    {
        var change = Everything.Plan.Changes.First(c => Everything.Take.Changes[c.Index] is { Arm: not null, DipCentre: not null });
        var heard = Everything.Take.Changes[change.Index];
        var svg = new ChangePicture(Everything.Take, Everything.Plan, change).Draw("title");
        var texts = svg.Elements(Svg.Ns + "text").Select(t => t.Value).ToList();
        string[] named = [Everything.Plan.Notes[change.FromNote].Note.Pitch.ToDisplay(), Everything.Plan.Notes[change.ToNote].Note.Pitch.ToDisplay(), "0", "−10", "−20", "level, dB", "hard if long", "air stopped"];
        Assert.All(named, n => Assert.Contains(n, texts));
        var apex = double.Parse(ApexOfWedge().Match(svg.Elements().Single(e => (string?)e.Attribute("class") == "tongue").Attribute("d")!.Value).Groups[1].Value);
        var diamond = double.Parse(FirstX().Match(svg.Elements().Single(e => (string?)e.Attribute("class") == "arm").Attribute("d")!.Value).Groups[1].Value);
        var middle = (heard.Arm!.Start.Value + heard.Arm.End.Value) / 2;
        var ticks = svg.Elements().Where(e => (string?)e.Attribute("class") == "end").Select(e => double.Parse(FirstX().Match(e.Attribute("d")!.Value).Groups[1].Value)).ToList();
        var unitsASecond = (ticks[1] - ticks[0]) / heard.Arm.Duration.Value;
        Assert.Equal((heard.DipCentre!.Value.Value - middle) * unitsASecond, apex - diamond, 0.5);
        Assert.Equal((middle - heard.Arm.Start.Value) * unitsASecond, diamond - ticks[0], 0.5);
    }

    [Fact]
    public void Everything_in_a_picture_lies_within_it_and_has_a_known_look()
    {
        foreach (var take in new[] { Invented, Everything })
        {
            foreach (var svg in ReportText.Of(take.Take, take.Diagnosis, take.Plan, new("T")).Troubles.Select(t => t.Picture))
            {
                var height = double.Parse(svg.Attribute("viewBox")!.Value.Split(' ')[3]);
                foreach (var path in svg.Elements(Svg.Ns + "path"))
                {
                    Assert.True(PictureInk.ByClass.ContainsKey(path.Attribute("class")!.Value));
                    Assert.All(Point().Matches(path.Attribute("d")!.Value), p => Assert.True(double.Parse(p.Groups[1].Value) is >= 0 and <= ChangePicture.Width && double.Parse(p.Groups[2].Value) >= 0 && double.Parse(p.Groups[2].Value) <= height, path.ToString()));
                }

                Assert.All(svg.Elements(Svg.Ns + "text"), t => Assert.Contains(t.Attribute("class")!.Value, (string[])["axis", "word"]));
            }
        }
    }

    [Fact]
    public void The_page_names_no_host_and_holds_no_script()
    {
        var page = Page(Everything);
        Assert.DoesNotMatch(@"(?i)https?:|//[a-z]|<script|\son\w+=|javascript:|url\(|@import|\ssrc=", page);
        Assert.All(Parsed(page).Descendants().Attributes().Where(a => a.Name.LocalName == "href"), a => Assert.True(a.Value[0] == '#' || a.Value == "data:,", a.Value));
        Assert.Contains("default-src 'none'", page);
    }

    [Fact]
    public void Whatever_comes_from_outside_is_encoded()
    {
        const string Evil = "<script>alert(1)</script>\" onload=\"x&";
        var diagnosis = Invented.Diagnosis with
        {
            Summary = Invented.Diagnosis.Summary with { Overall = Evil, WorkOnFirst = [Evil] },
            Changes = [.. Invented.Diagnosis.Changes.Select(c => c with { Advice = Evil, Remarks = [Evil], Findings = [new Finding(Verdict.Smear, Evil)] })],
            Notes = [.. Invented.Diagnosis.Notes.Select(n => n with { Advice = Evil, Remarks = [Evil], Findings = [new Finding(Verdict.CannotTell, Evil)] })],
        };
        var plan = Invented.Plan with
        {
            Instrument = Invented.Plan.Instrument with { Name = Evil },
            Notes = [.. Invented.Plan.Notes.Select(n => n with { Note = n.Note with { Bar = Evil } })],
        };
        var take = Invented.Take with { Problems = [new(Evil, Evil, Evil)] };
        var page = Page(new InventedTake(plan, take, diagnosis), new(Evil, Evil, Evil));
        Assert.DoesNotContain("<script", page);
        Assert.DoesNotContain(Parsed(page).DescendantsAndSelf().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
    }

    [Fact]
    public void The_pupils_name_is_printed_as_given_and_only_at_the_top()
    {
        var page = WebUtility.HtmlDecode(Page(Invented, new("Evening walk", "take 3.wav", "Ødegård, Bö & Co.")));
        Assert.Contains("For Ødegård, Bö & Co. · ", page);
        Assert.Equal(1, Regex.Count(page, "Ødegård"));
        Assert.Contains("take 3.wav", page);
        Assert.DoesNotContain("For ·", WebUtility.HtmlDecode(Page(Invented, new("Evening walk"))));
    }

    [Fact]
    public void A_take_in_which_nothing_was_found_still_makes_a_page()
    {
        var take = Invented.Take with
        {
            Notes = [.. Invented.Take.Notes.Select(n => new HeardNote { Index = n.Index, Pitch = n.Pitch, Found = false })],
            Changes = [.. Invented.Take.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
            Track = new Track { Start = new(0), Hop = new(0.005), Frames = [] },
            TempoRatio = null,
        };

        // The judgements stay: pictures of changes without a single frame or figure.
        Assert.Contains("Not found in the recording", Page(Invented with { Take = take }));
        var silent = Diagnostician.Judge(take, Invented.Plan);
        var page = Page(new InventedTake(Invented.Plan, take, silent));
        Assert.Contains("No change could be judged.", page);
        Assert.Contains("Nothing can be said.", page);
        Assert.Contains("One of the two notes was not found, 15 changes", page);
        Assert.DoesNotContain("NaN", Page(Invented with { Take = take }));
    }

    [Fact]
    public void Places_are_told_as_a_player_counts_them_and_repeats_by_their_time()
    {
        var notes = Invented.Plan.Notes.Select(n => n with { Note = n.Note with { Bar = "7", Beat = new Beats(5, 2), Pass = 2 } });
        var page = WebUtility.HtmlDecode(Page(Invented with { Plan = Invented.Plan with { Notes = [.. notes] } }));
        Assert.Contains("7, 2½ (2nd)", page);
        Assert.Contains("Bar 7, beat 2½ (2nd time)", page);
    }

    [Fact]
    public void A_clean_take_says_so()
    {
        var page = Page(InventedTake.Clean());
        Assert.Contains("Nothing stands out", page);
        Assert.Contains("Nothing to mend in 3 changes", page);
        Assert.Contains("Nothing was left open", page);
    }

    [Fact]
    public void The_cautions_are_printed_and_no_sound_pressure_is_claimed()
    {
        var page = Page(Invented);
        Assert.All(Cautions.Lines, line => Assert.Contains(WebUtility.HtmlEncode(line), page));
        Assert.Contains("no sound pressure level (dB SPL) is known", page);
        Assert.DoesNotMatch(@"\d\s*dB SPL", page);
    }

    [Fact]
    public void The_line_of_music_is_shown_where_an_engraver_made_it_and_left_out_where_not()
    {
        XNamespace svg = "http://www.w3.org/2000/svg";
        var system = new MusicSystem(new XElement(svg + "svg", new XAttribute("viewBox", "0 0 1 1")), "System <1>");
        var report = ReportText.Of(Invented.Take, Invented.Diagnosis, Invented.Plan, new("T"));
        using var writer = new StringWriter();
        ReportPage.Write(report, new PageMusic(new XElement(svg + "defs"), [system], [system]), writer);
        Assert.Equal(2, Regex.Count(writer.ToString(), "<title>System &lt;1&gt;</title>"));
        Assert.DoesNotContain("id=\"line\"", Page(Invented));
    }

    [Fact]
    public void A_limits_word_stands_clear_of_the_lines()
    {
        var svg = new ChangePicture(Everything.Take, Everything.Plan, Everything.Plan.Changes[3]).Draw("title");
        var lines = svg.Elements().Where(e => (string?)e.Attribute("class") == "limit").Select(e => double.Parse(Point().Match(e.Attribute("d")!.Value).Groups[2].Value)).ToList();
        var words = svg.Elements(Svg.Ns + "text").Where(t => t.Value is "hard if long" or "air stopped").Select(t => double.Parse(t.Attribute("y")!.Value)).ToList();
        Assert.Equal(2, words.Count);

        // Tails of letters reach a quarter of the size below the baseline, heads three quarters above.
        foreach (var y in words) Assert.All(lines, line => Assert.False(line > y - (0.75 * PictureInk.TextSize) - 0.9 && line < y + (0.25 * PictureInk.TextSize) + 0.9, $"a line at {line}, a word at {y}"));
    }

    private static List<string> RowTitles(InventedTake t, int change)
    {
        var svg = new ChangePicture(t.Take, t.Plan, t.Plan.Changes[change]).Draw("title");
        return [.. svg.Elements(Svg.Ns + "text").Select(e => e.Value).Where(v => v is "pitch" or "level, dB" || v.StartsWith("slide, cm", StringComparison.Ordinal))];
    }

    private static XElement Parsed(string page) => XDocument.Parse(VoidTag().Replace(page, "<$1 />").Replace("<!DOCTYPE html>", "", StringComparison.Ordinal)).Root!;

    private static string Page(InventedTake t, ReportHeading? heading = null)
    {
        using var writer = new StringWriter { NewLine = "\n" };
        ReportPage.Write(ReportText.Of(t.Take, t.Diagnosis, t.Plan, heading ?? new("Evening walk, take 1")), null, writer);
        return writer.ToString();
    }

    [GeneratedRegex(@"<((?:meta|link)\s[^>]*)>")]
    private static partial Regex VoidTag();

    [GeneratedRegex(@"[ML]([\d.-]+) ([\d.-]+)")]
    private static partial Regex Point();

    [GeneratedRegex(@"L([\d.]+) [\d.]+Z")]
    private static partial Regex ApexOfWedge();

    [GeneratedRegex(@"^M([\d.]+)")]
    private static partial Regex FirstX();
}
