using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

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
    public void The_json_carries_the_fields_that_its_page_documents_and_no_others()
    {
        var documented = Documented();
        using var json = JsonDocument.Parse(Json(Everything));
        using var faulty = JsonDocument.Parse(Json(Invented));
        var unasked = Invented.Plan with { Line = Invented.Plan.Line with { FromRecording = true } };
        using var free = JsonDocument.Parse(Json(Invented with { Plan = unasked }));
        Assert.False(free.RootElement.GetProperty("part").GetBoolean());
        var written = FieldsOf(json.RootElement).Concat(FieldsOf(faulty.RootElement)).Concat(FieldsOf(free.RootElement)).ToHashSet();
        Assert.Empty(written.Except(documented));
        Assert.Empty(documented.Except(written));
    }

    [Fact]
    public void Every_interval_stands_beside_its_quantity_and_holds_it()
    {
        using var json = JsonDocument.Parse(Json(Everything));
        var intervals = Objects(json.RootElement).SelectMany(o => o.EnumerateObject().Where(p => p.Name.EndsWith("Interval", StringComparison.Ordinal)).Select(p => (Object: o, Field: p))).ToList();
        Assert.Equal(13, intervals.Select(x => x.Field.Name).Distinct().Count());
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
