using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What is written about a take: JSON and text for a terminal.</summary>
public partial class TakeAccountsTests
{
    private static readonly InventedTake Invented = InventedTake.WithEveryFault();

    [Fact]
    public void The_json_of_a_take_is_as_approved() => Golden.Check("take.json", Json(Invented));

    [Fact]
    public void The_text_of_a_take_is_as_approved_and_fits_eighty_columns()
    {
        var text = Text(Invented);
        Assert.All(text.Split('\n'), line => Assert.True(line.Length <= 80, line));
        Golden.Check("take.txt", text);
    }

    [Fact]
    public void What_was_not_measured_is_absent_and_never_null()
    {
        Assert.DoesNotContain("null", Json(Invented));
        using var json = JsonDocument.Parse(Json(Invented));
        var lost = json.RootElement.GetProperty("notes")[14];
        Assert.False(lost.GetProperty("found").GetBoolean());
        Assert.All(new[] { "onset", "offset", "cents", "levelDb", "slideMm" }, name => Assert.False(lost.TryGetProperty(name, out _), name));
        var unmeasured = json.RootElement.GetProperty("changes")[14];
        Assert.All(new[] { "glideMs", "glideCentre", "dipDb", "dipWidthMs", "dipCentre", "tongueOffsetMs", "gapMs" }, name => Assert.False(unmeasured.TryGetProperty(name, out _), name));
    }

    [Fact]
    public void A_measurement_that_is_no_number_is_absent_too()
    {
        var broken = Invented.Take.Changes[0] with { Glide = new(double.NaN), Dip = new(double.PositiveInfinity) };
        using var json = JsonDocument.Parse(Json(Invented with { Take = Invented.Take with { Changes = Invented.Take.Changes.SetItem(0, broken) } }));
        Assert.False(json.RootElement.GetProperty("changes")[0].TryGetProperty("glideMs", out _));
        Assert.False(json.RootElement.GetProperty("changes")[0].TryGetProperty("dipDb", out _));
    }

    [Fact]
    public void The_json_of_everything_that_can_be_measured_is_as_approved() => Golden.Check("take-everything.json", Json(Everything));

    [Fact]
    public void The_text_of_everything_is_as_approved_and_fits_eighty_columns()
    {
        var text = Text(Everything);
        Assert.All(text.Split('\n'), line => Assert.True(line.Length <= 80, line));
        Golden.Check("take-everything.txt", text);
    }

    [Fact]
    public void A_file_holds_every_remark_and_a_screen_says_where_the_rest_stands()
    {
        var said = InventedTake.WithEveryFault();
        said = said with { Diagnosis = said.Diagnosis with { Notes = [.. said.Diagnosis.Notes.Select(n => n with { Remarks = [$"Remark {n.Index}."] })] } };
        var file = Text(said);
        Assert.All(said.Diagnosis.Notes, n => Assert.Contains($"Remark {n.Index}.", file));
        Assert.DoesNotContain("more in the file", file);
    }

    [Fact]
    public void Changes_that_are_open_for_one_reason_are_told_in_one_line_with_their_places()
    {
        var heard = InventedTake.WithEveryFault();
        var take = heard.Take with { Changes = [.. heard.Take.Changes.Select(c => c.Index is >= 3 and <= 9 ? new HeardChange { Index = c.Index, Found = false } : c)] };
        var text = Regex.Replace(Text(heard with { Take = take, Diagnosis = Diagnostician.Judge(take, heard.Plan) }), @"\s+", " ");
        Assert.Matches(@"One of the two notes was not found, 9 changes \(bar 2, beats? [^()]+; and 3 more\)", text);
        Assert.Single(Regex.Matches(text, "One of the two notes was not found"));
    }

    [Fact]
    public void A_verdict_that_two_findings_share_is_said_once()
    {
        var heard = InventedTake.WithEveryFault();
        var faulty = heard.Diagnosis.Changes[0];
        var twice = faulty with { Findings = [.. faulty.Findings, new Finding(Verdict.Smear, "one reason"), new Finding(Verdict.Smear, "another")] };
        var diagnosis = heard.Diagnosis with { Changes = heard.Diagnosis.Changes.SetItem(0, twice) };
        Assert.DoesNotMatch(@"smear,\s+smear", Text(heard with { Diagnosis = diagnosis }));
        var report = Core.Diagnosis.Page.ReportText.Of(heard.Take, diagnosis, heard.Plan, new("Evening walk"));
        using var page = new StringWriter();
        ReportPage.Write(report, null, page);
        Assert.Single(Regex.Matches(Regex.Match(page.ToString(), "<p class=\"heard\">.*?</p>", RegexOptions.Singleline).Value, " smear</span>"));
    }

    [Theory]
    [InlineData("Bb2:4", 1, "The one note was found")]
    [InlineData("Bb2:4", 0, "None of 1 notes was found")]
    [InlineData("Bb2:2~ C3:2~ D3:2", 1, "Only 1 of 3 notes was found")]
    [InlineData("Bb2:2~ C3:2", 1, "1 of 2 notes was found")]
    public void Counted_words_agree_with_their_number(string notes, int found, string says)
    {
        var plan = Planner.Plan(TestLines.Of(notes), Core.Instruments.Catalogue.Default).Value;
        var take = new Take
        {
            Notes = [.. plan.Notes.Select(n => new HeardNote { Index = n.Note.Index, Pitch = n.Note.Pitch, Found = n.Note.Index < found })],
            Changes = [.. plan.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
            Track = new Track { Start = Core.Units.Seconds.Zero, Hop = new(0.005), Frames = [] },
            TempoRatio = null,
        };
        Assert.StartsWith(says, Diagnostician.Judge(take, plan).Summary.Overall);
    }

    [Fact]
    public void The_json_carries_the_fields_that_its_page_documents_and_no_others()
    {
        var documented = Documented();
        using var json = JsonDocument.Parse(Json(Everything));
        using var faulty = JsonDocument.Parse(Json(Invented));
        var unasked = Invented.Plan with { Line = Invented.Plan.Line with { FromRecording = true } };
        using var free = JsonDocument.Parse(Json(Invented with { Plan = unasked }));
        using var several = JsonDocument.Parse(Json(InventedTake.ThreeAttempts()));
        var slide = new HeardSlide(new(0.2), new(new(0.18), new(0.22)), 1.3);
        var slid = Everything.Take.Changes.SetItem(0, Everything.Take.Changes[0] with { SlideBefore = slide, SlideAfter = slide });
        using var slow = JsonDocument.Parse(Json(Everything with { Take = Everything.Take with { Changes = slid } }));
        Assert.False(free.RootElement.GetProperty("part").GetBoolean());
        var written = FieldsOf(slow.RootElement).Concat(FieldsOf(json.RootElement)).Concat(FieldsOf(faulty.RootElement)).Concat(FieldsOf(free.RootElement)).Concat(FieldsOf(several.RootElement)).ToHashSet();
        Assert.Empty(written.Except(documented));
        Assert.Empty(documented.Except(written));
    }

    [Fact]
    public void Every_interval_stands_beside_its_quantity_and_holds_it()
    {
        using var json = JsonDocument.Parse(Json(Everything));
        var intervals = Objects(json.RootElement).SelectMany(o => o.EnumerateObject().Where(p => p.Name.EndsWith("Interval", StringComparison.Ordinal)).Select(p => (Object: o, Field: p))).ToList();
        Assert.Equal(20, intervals.Select(x => x.Field.Name).Distinct().Count());
        foreach (var (owner, field) in intervals)
        {
            var value = owner.GetProperty(field.Name[..^"Interval".Length]).GetDouble();
            Assert.Equal(2, field.Value.GetArrayLength());
            Assert.InRange(value, field.Value[0].GetDouble(), field.Value[1].GetDouble());
        }
    }

    [Fact]
    public void Every_code_in_the_json_is_documented()
    {
        var page = TakeJsonPage();
        Assert.All(Enum.GetValues<Verdict>(), v => Assert.Contains($"`{v.WireName()}`", page));
        Assert.All(Enum.GetValues<Doubt>(), d => Assert.Contains($"`{d.WireName()}`", page));
        Assert.All(Enum.GetValues<ChangeIntent>(), i => Assert.Contains($"`{i.WireName()}`", page));
        Assert.All(Enum.GetValues<Verdict>(), v => Assert.True(VerdictNames.TryParse(v.WireName(), out var back) && back == v));
        Assert.All(Enum.GetValues<ChangeIntent>(), i => Assert.True(ChangeIntentNames.TryParse(i.WireName(), out var back) && back == i));
    }

    [Fact]
    public void Other_attempts_carry_what_was_heard_in_them_and_the_best_one_does_not_stand_twice()
    {
        using var json = JsonDocument.Parse(Json(Everything));
        var attempts = json.RootElement.GetProperty("attempts");
        Assert.Equal([false, true], attempts.EnumerateArray().Select(a => a.GetProperty("best").GetBoolean()));
        Assert.Equal([0, 1, 2, 3, 4], attempts[0].GetProperty("notes").EnumerateArray().Select(n => n.GetProperty("index").GetInt32()));
        Assert.Equal([0, 1, 2, 3], attempts[0].GetProperty("changes").EnumerateArray().Select(n => n.GetProperty("index").GetInt32()));
        Assert.False(attempts[1].TryGetProperty("notes", out _));
    }

    [Fact]
    public void A_take_in_which_nothing_was_found_still_makes_a_text()
    {
        var nothing = Invented.Take with
        {
            Notes = [.. Invented.Take.Notes.Select(n => new HeardNote { Index = n.Index, Pitch = n.Pitch, Found = false })],
            Changes = [.. Invented.Take.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
            Track = new Track { Start = new(0), Hop = new(0.005), Frames = [] },
            TempoRatio = null,
        };
        Assert.Contains("Not found in the recording", Text(Invented with { Take = nothing }));
    }

    [Fact]
    public void A_clean_take_says_so()
    {
        var clean = InventedTake.Clean();
        Assert.Contains("nothing to mend in 3", Text(clean));
    }

    private static readonly InventedTake Everything = InventedTake.WithEverythingMeasured();

    private static string TakeJsonPage() => File.ReadAllText(Path.Combine(Repository.Root, "docs", "take-json.md"));

    private static HashSet<string> Documented() => [.. FieldInTable().Matches(TakeJsonPage())
        .SelectMany(m => m.Value.Split('`').Where((_, i) => i % 2 == 1)).Select(f => f.Replace("[]", ""))];

    private static IEnumerable<JsonElement> Objects(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => Objects(p.Value)).Prepend(element),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(Objects),
        _ => [],
    };

    private static string Json(InventedTake t)
    {
        using var stream = new MemoryStream();
        TakeJson.Write(t.Take, t.Diagnosis, t.Plan, stream);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static string Text(InventedTake t)
    {
        using var writer = new StringWriter { NewLine = "\n" };
        TakeText.Write(t.Take, t.Diagnosis, t.Plan, writer);
        return writer.ToString();
    }

    // Names below changeVerdicts and noteVerdicts are verdict codes.
    private static IEnumerable<string> FieldsOf(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => p.Name.EndsWith("Verdicts", StringComparison.Ordinal) ? [p.Name] : FieldsOf(p.Value).Prepend(p.Name)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(FieldsOf),
        _ => [],
    };

    [GeneratedRegex(@"^\| `[^|]*\|", RegexOptions.Multiline)]
    private static partial Regex FieldInTable();
}
