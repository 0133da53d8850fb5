using System.Text.Json;
using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;

namespace Seamwright.Tests.Diagnoses;

/// <summary>Several passes at one line: which one is told, and how it stands beside another.</summary>
public class AttemptAccountTests
{
    private static readonly InventedTake Three = InventedTake.ThreeAttempts();

    [Fact]
    public void The_full_pass_that_is_told_stands_beside_the_full_one_before_it()
    {
        var said = Assert.Single(Three.Diagnosis.Summary.Comparison);
        Assert.StartsWith("Attempt 3 against attempt 1: fewer: ", said);
        Assert.Contains("too hard 0 instead of 2", said);
        Assert.Matches(@"more: cracked [2-9] instead of 1\.", said);
        Assert.Matches(@"Better in bar \d", said);
        Assert.Matches(@"worse in bar \d", said);
        Assert.Equal(3, Three.Diagnosis.Summary.Attempt + 1);
    }

    [Fact] // Every count of the sentence against the judgements themselves.
    public void The_counts_are_those_of_what_both_passes_settle()
    {
        var (first, last) = (Three.Diagnosis.Attempts[0], Three.Diagnosis.Attempts[2]);
        bool Open(IEnumerable<Finding> findings) => findings.All(f => f.Verdict is Verdict.CannotTell or Verdict.Clean) && findings.Any(f => f.Verdict == Verdict.CannotTell);
        var settled = Enumerable.Range(0, first.Changes.Length).Where(i => !Open(first.Changes[i].Findings) && !Open(last.Changes[i].Findings)).ToList();
        foreach (Match m in Regex.Matches(Three.Diagnosis.Summary.Comparison[0], @"([a-z ]+) (\d+) instead of (\d+)"))
        {
            var kind = m.Groups[1].Value.Trim().Replace(' ', '-');
            if (kind == "out-of-tune") continue;
            Assert.Equal(int.Parse(m.Groups[2].Value), settled.Count(i => last.Changes[i].Verdicts.Any(v => v.WireName() == kind)));
            Assert.Equal(int.Parse(m.Groups[3].Value), settled.Count(i => first.Changes[i].Verdicts.Any(v => v.WireName() == kind)));
        }
    }

    [Fact]
    public void The_pass_that_is_asked_for_is_told_alone()
    {
        var take = Three.Take.Told(1);
        var diagnosis = Diagnostician.Judge(take, Three.Plan);
        Assert.Equal(3, take.Notes.Count(n => n.Found));
        Assert.Equal(0.8, diagnosis.Summary.TempoRatio);
        Assert.Contains("attempt 2 of 3, as asked for", diagnosis.Summary.Overall);
        Assert.Contains($"{take.Notes.Length - 3} of {take.Notes.Length} notes were not found", Assert.Single(take.Problems).What);
        Assert.Empty(diagnosis.Summary.Comparison);
        Assert.Equal([false, true, false], diagnosis.Attempts.Select(a => a.Best));
        Assert.Equal(take.Changes, take.Attempts[1].Changes);
    }

    [Fact]
    public void An_earlier_pass_stands_beside_the_next_one()
    {
        var take = Three.Take.Told(0);
        Assert.Matches("^Attempt 1 against attempt 3: fewer: cracked 1 instead of [2-9]; more: too hard 2 instead of 0", Assert.Single(Diagnostician.Judge(take, Three.Plan).Summary.Comparison));
    }

    [Fact]
    public void Three_full_passes_are_told_by_the_first_the_last_and_the_best()
    {
        var (first, last) = (Three.Take.Attempts[0], Three.Take.Attempts[2]);
        var better = last with { Changes = [.. last.Changes.Select(c => c with { CaughtPitch = null, CaughtFor = null })] };
        var take = Three.Take with { Attempts = [first, last, last] };
        var said = Diagnostician.Judge(take, Three.Plan).Summary.Comparison;
        Assert.Equal(2, said.Length);
        Assert.Matches(@"^Changes to mend: \d in each of the 3 full attempts\.$", said[1]);
        Assert.Matches(@"^Changes to mend: (\d) in attempt 1, \d in attempt 3; fewest in attempt 2: [^\1]\.$", Diagnostician.Judge(take with { Attempts = [first, better, last] }, Three.Plan).Summary.Comparison[1]);
        Assert.Matches(@"^Changes to mend: \d in attempt 1, \d in attempt 3\.$", Diagnostician.Judge(take with { Attempts = [first, last, better] }, Three.Plan).Summary.Comparison[1]);
        var same = Diagnostician.Judge(take.Told(2), Three.Plan).Summary.Comparison[0];
        Assert.StartsWith("Attempt 3 against attempt 2: as many faults of each kind.", same);
    }

    [Fact]
    public void Text_json_and_report_all_name_the_told_pass_and_the_comparison()
    {
        var said = Three.Diagnosis.Summary.Comparison[0];
        using var text = new StringWriter();
        TakeText.Write(Three.Take, Three.Diagnosis, Three.Plan, text);
        Assert.Contains(said, Regex.Replace(text.ToString(), @"\s+", " "));
        using var stream = new MemoryStream();
        TakeJson.Write(Three.Take, Three.Diagnosis, Three.Plan, stream);
        using var json = JsonDocument.Parse(stream.ToArray());
        Assert.Equal(3, json.RootElement.GetProperty("summary").GetProperty("attempt").GetInt32());
        Assert.Equal(said, json.RootElement.GetProperty("summary").GetProperty("comparison")[0].GetString());
        Assert.Contains(said, ReportText.Of(Three.Take, Three.Diagnosis, Three.Plan, new("Evening walk")).Attempts);
    }

    [Fact]
    public void There_is_no_attempt_beyond_the_last() => Assert.Throws<ArgumentOutOfRangeException>(() => Three.Take.Told(3));
}
