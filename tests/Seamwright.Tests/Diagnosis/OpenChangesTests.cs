using System.Text.Json;
using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What is said where a recording leaves much open.</summary>
public class OpenChangesTests
{
    private static readonly InventedTake Hidden = WithOpen(12);

    [Fact]
    public void A_take_that_leaves_many_changes_open_says_so_first_with_the_reason_and_what_to_do()
    {
        Assert.Empty(Hidden.Diagnosis.Summary.WorkOnFirst);
        Assert.StartsWith("12 of 14 changes could not be judged, all because noise hides the quiet moments: record nearer to the bell, or where it is quieter. ", Hidden.Diagnosis.Summary.Overall);
        Assert.StartsWith("12 of 14 changes could not be judged", Text(Hidden));
        using var json = JsonDocument.Parse(Json(Hidden));
        Assert.StartsWith("12 of 14 changes could not be judged", json.RootElement.GetProperty("summary").GetProperty("overall").GetString());
        Assert.True(json.RootElement.GetProperty("summary").GetProperty("changeVerdicts").GetProperty("cannot-tell").GetInt32() >= 12);
    }

    [Fact]
    public void Nothing_to_mend_is_never_said_alone_where_something_is_open()
    {
        Assert.Contains("Changes: nothing to mend in the 2 of 14 changes that could be judged.", Text(Hidden));
        Assert.Contains("Nothing stands out in the 2 of 14 changes that could be judged.", Page(Hidden));
        Assert.DoesNotContain("Nothing stands out.", Page(Hidden));
        Assert.Contains("Nothing to mend in the 2 of 14 changes that could be judged.", Page(Hidden));
        Assert.Contains("Changes: nothing to mend in the 13 of 14 changes that could be judged.", Text(WithOpen(1)));
    }

    [Fact]
    public void Few_open_changes_leave_the_summary_as_it_is() => Assert.StartsWith("All 15 notes were found", WithOpen(2).Diagnosis.Summary.Overall);

    [Fact]
    public void An_attempt_that_leaves_much_open_says_so_before_what_is_to_mend()
    {
        var told = new Attempt { Start = new(1), End = new(20), Notes = Hidden.Take.Notes, Changes = Hidden.Take.Changes };
        var take = Hidden.Take with { Attempts = [told with { Start = new(30), End = new(50) }, told] };
        var twice = Hidden with { Take = take, Diagnosis = Diagnostician.Judge(take, Hidden.Plan) };
        Assert.Contains("15 of 15 notes, 12 of 14 changes could not be judged (noise hides the quiet moments), 0 to mend", Flat(Text(twice)));
        Assert.Matches(@"\d+ of 29 notes and changes cannot be compared, for one attempt or the other leaves them open; in the rest no fault in either\.", Flat(Text(twice)));
    }

    [Fact]
    public void The_key_counts_changes_and_not_verdicts()
    {
        var twoThings = Hidden.Take.Changes[0];
        Assert.True(Hidden.Diagnosis.Changes[0].Findings.Count(f => f.Verdict == Verdict.CannotTell) > 1, "one change must be open in two ways");
        Assert.Equal(0, twoThings.Index);
        var counts = ReportText.Of(Hidden.Take, Hidden.Diagnosis, Hidden.Plan, new("Hidden")).Counts.ToDictionary(c => c.Verdict, c => c.Count);
        Assert.Equal(12, counts[Verdict.CannotTell]);
        Assert.Equal(2, counts[Verdict.Clean]);
    }

    [Fact]
    public void What_is_open_is_told_in_one_line_for_each_reason_with_places_and_range()
    {
        var text = Flat(Text(Hidden));
        Assert.Equal(1, Regex.Count(text, "Noise hides the quiet moments"));
        Assert.Matches(@"Noise hides the quiet moments, 12 changes \(bar 1, beats \S+.*; and 6 more\): more than 20 dB down for \S+ to \S+ ms, limit \S+ ms", text);
    }

    [Fact]
    public void The_figures_of_many_are_told_as_one_range()
    {
        var plan = Hidden.Plan;
        var open = Hidden.Diagnosis with
        {
            Changes = [.. Hidden.Diagnosis.Changes.Select((c, i) => c with { Findings = [i < 3 ? Finding.Open($"the tongue is off by {(i == 0 ? "−" : "")}{128 - (100 * i)} to {150 + (10 * i)} ms at G3, limit 60 ms", OpenReason.Own("a reason")) : new(Verdict.Clean, "")] })],
        };
        Assert.Contains("the tongue is off by −128 to 170 ms at G3, limit 60 ms", Flat(Text(Hidden with { Diagnosis = open })));
        Assert.NotEmpty(plan.Notes);
    }

    [Theory]
    [InlineData(0.05, -0.128, 0.17, "−128 to 170 ms", "50 ms (−128 to 170)")]
    [InlineData(-0.05, -0.128, -0.0002, "−128 to 0 ms", "−50 ms (−128 to 0)")]
    public void A_figure_below_nought_has_a_minus_sign(double value, double low, double high, string range, string figure)
    {
        var reading = new Reading(value, low, high, 0);
        Assert.Equal(range, reading.Range(1000, "ms", "0"));
        Assert.Equal(figure, reading.Figure(1000, "ms", "0"));
    }

    [Fact]
    public void Bars_beyond_the_first_few_are_counted_and_never_hidden_behind_dots()
    {
        var faulty = InventedTake.WithEveryFault(4);
        var take = faulty.Take;
        var work = string.Join(" ", Diagnostician.Judge(take, faulty.Plan).Summary.WorkOnFirst);
        Assert.DoesNotContain("…", work);
        Assert.Matches(@"\(bars \d+, \d+, \d+, \d+ and \d+ more\)", work);
    }

    [Fact]
    public void Remarks_name_the_notes_of_a_change_and_no_number_from_nought()
    {
        var faulty = InventedTake.WithEveryFault().WithIntervals();
        var judged = Diagnostician.Judge(faulty.Take, faulty.Plan);
        var text = Flat(Text(faulty with { Diagnosis = judged with { Changes = [.. judged.Changes.Select(c => c with { Remarks = ["The arm crept."] })] } }));
        Assert.Matches(@"bar \d, beat \S+, [A-G][♭♯]?\d to [A-G][♭♯]?\d: The arm crept\.", text);
        Assert.DoesNotMatch(@"change \d", text);
    }

    // Fifteen notes, the first changes open because of noise, the rest clean.
    private static InventedTake WithOpen(int open)
    {
        var plan = Planner.Plan(TestLines.Of(string.Join(' ', Enumerable.Repeat("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:1~", 3)).TrimEnd('~')), Core.Instruments.Catalogue.Default).Value;
        var clean = InventedTake.Of(plan, plan.Changes.ToDictionary(c => c.Index, _ => Fault.None), lost: -1);
        var take = clean.Take with { Changes = [.. clean.Take.Changes.Select(c => c.Index < open ? Noisy(c) : c)], TempoRatio = 1, Problems = [] };
        return new(plan, take, Diagnostician.Judge(take, plan));
    }

    private static HeardChange Noisy(HeardChange c) => c with
    {
        EarGap = new(0.004 + (0.0003 * c.Index)),
        EarGapInterval = (new(0), new(0.03 + (0.001 * c.Index))),
        AudibleGlide = c.Index == 0 ? new(0.03) : c.AudibleGlide,
        AudibleGlideBounds = c.Index == 0 ? new(new(0.001), new(0.3)) : c.AudibleGlideBounds,
        GlideSemitones = c.Index == 0 ? 2 : c.GlideSemitones,
        OvershootBounds = c.Index == 0 ? new(new(0), new(9)) : null,
        Overshoot = c.Index == 0 ? new(2) : c.Overshoot,
        Doubts = [Doubt.Noise],
    };

    private static string Text(InventedTake heard)
    {
        using var text = new StringWriter();
        TakeText.Write(heard.Take, heard.Diagnosis, heard.Plan, text);
        return text.ToString();
    }

    private static string Page(InventedTake heard)
    {
        using var page = new StringWriter();
        ReportPage.Write(ReportText.Of(heard.Take, heard.Diagnosis, heard.Plan, new("Hidden")), null, page);
        return page.ToString();
    }

    private static string Json(InventedTake heard)
    {
        using var stream = new MemoryStream();
        TakeJson.Write(heard.Take, heard.Diagnosis, heard.Plan, stream);
        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }

    private static string Flat(string text) => Regex.Replace(text, @"\s+", " ");
}
