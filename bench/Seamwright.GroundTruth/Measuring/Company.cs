using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Parts;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>What is told of a player in whose room another sound is heard, against what is told of the same take alone.</summary>
internal static class Company
{
    private static readonly ImmutableArray<string> Open = ["clean", "cannot-tell"];

    /// <summary>Makes the takes, hears them, and prints one line a condition.</summary>
    /// <param name="folder">Made by <c>make</c>.</param>
    /// <param name="output">Where the takes in company go.</param>
    /// <param name="list">Whether every wrong verdict is listed.</param>
    /// <param name="to">Printed to.</param>
    public static void Print(string folder, string output, bool list, TextWriter to)
    {
        Directory.CreateDirectory(output);
        var rows = new List<Row>();
        foreach (var truth in Measurement.Truths(folder).Where(t => t.Condition == "clean"))
        {
            var part = Path.Combine(folder, truth.Part);
            File.Copy(part, Path.Combine(output, truth.Part), true);
            var plan = PartPlan.Read(part, truth.Instrument);
            var clean = TakeWriter.ReadWav(Path.Combine(folder, truth.Name + ".wav"));
            var take = new MadeTake(clean.Samples.ToArray(), clean.Rate.Value, truth, Curves.Silent(truth.DurationSeconds));
            var alone = Judged(clean, plan);
            rows.Add(new Row("alone", truth, plan, alone.Take, alone.Judgement, alone.Judgement));
            foreach (var beside in Beside.All)
            {
                var mixed = beside.Of(take, plan, new Random(truth.Name.Length + (int)beside.DbBelow));
                TakeWriter.Write(output, mixed);
                var heard = Judged(TakeWriter.ReadWav(Path.Combine(output, mixed.Truth.Name + ".wav")), plan);
                rows.Add(new Row(beside.Name, mixed.Truth, plan, heard.Take, heard.Judgement, alone.Judgement));
            }
        }

        to.WriteLine($"{"",-12}{"takes",6}{"said",6}{"changes",8}{"wrong",7}{"new",5}{"hidden",8}{"open %",8}{"notes found %",15}{"out of tune, new",18}{"said dB",9}");
        foreach (var group in rows.GroupBy(r => r.Condition)) to.WriteLine(Line(group.Key, [.. group]));
        if (!list) return;
        foreach (var row in rows) foreach (var line in row.Listed()) to.WriteLine(line);
    }

    private static (Take Take, Diagnosis Judgement) Judged(Recording recording, Core.Planning.Plan plan)
    {
        var take = Listener.Listen(recording, plan);
        return (take, Diagnostician.Judge(take, plan));
    }

    private static string Line(string name, IReadOnlyList<Row> rows)
    {
        var changes = rows.SelectMany(r => r.Changes).ToList();
        var notes = rows.SelectMany(r => r.Take.Notes).ToList();
        return $"{name,-12}{rows.Count,6}{rows.Count(r => r.Take.Problems.Any(p => p.What.Contains("another sound", StringComparison.Ordinal))),6}{changes.Count,8}{changes.Sum(c => c.Wrong.Length),7}{changes.Sum(c => c.New.Length),5}"
            + $"{changes.Sum(c => c.Hidden.Length),8}{100.0 * changes.Count(c => c.Heard.Contains("cannot-tell")) / Math.Max(1, changes.Count),8:0.0}{100.0 * notes.Count(n => n.Found) / Math.Max(1, notes.Count),15:0.0}{rows.Sum(r => r.NewlyOutOfTune),18}{Table.Text(rows.Average(r => r.SaidDb), 0),9}";
    }

    private sealed record Told(int Change, ImmutableArray<string> Truth, ImmutableArray<string> Heard, ImmutableArray<string> Wrong, ImmutableArray<string> New, ImmutableArray<string> Hidden);

    private sealed record Row(string Condition, TruthFile Truth, Core.Planning.Plan Plan, Take Take, Diagnosis Heard, Diagnosis Alone)
    {
        private ImmutableArray<Told>? changes;

        /// <summary>Every change but breaths.</summary>
        public ImmutableArray<Told> Changes => changes ??= [.. Compare()];

        /// <summary>Notes called out of tune that were not alone, and are not.</summary>
        public int NewlyOutOfTune => Truth.Notes.Count(n => IsOut(Heard, n.Index) && !IsOut(Alone, n.Index) && Math.Abs(n.Cents) < 25);

        /// <summary>How far below the player it is said to be, by the remark's own words; null where nothing is said.</summary>
        public double? SaidDb => Take.Problems.Select(p => System.Text.RegularExpressions.Regex.Match(p.What, @"about (\d+) dB softer")).Where(m => m.Success)
            .Select(m => (double?)double.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture)).FirstOrDefault();

        public IEnumerable<string> Listed()
        {
            foreach (var c in Changes.Where(c => c.New.Length + c.Hidden.Length > 0))
            {
                yield return $"{Truth.Name} change {c.Change}: true [{string.Join(' ', c.Truth)}], heard [{string.Join(' ', c.Heard)}]; new [{string.Join(' ', c.New)}], hidden [{string.Join(' ', c.Hidden)}] "
                    + string.Join("; ", Heard.Changes[c.Change].Findings.Where(f => c.New.Contains(f.Verdict.WireName())).Select(f => f.Basis));
            }
        }

        private static bool IsOut(Diagnosis d, int note) => d.Notes[note].Verdicts.Contains(Verdict.OutOfTune);

        // New: told, not true, and not told of the take alone. Hidden: true, told of the take alone, and now said not to be there.
        private IEnumerable<Told> Compare()
        {
            var implied = TruthTake.Verdicts(Truth, Plan);
            foreach (var c in Truth.Changes.Where(c => c.Kind != "breath"))
            {
                var (truth, heard, alone) = (Names(implied[c.Index]), Names(Heard.Changes[c.Index].Verdicts), Names(Alone.Changes[c.Index].Verdicts));
                ImmutableArray<string> wrong = [.. heard.Except(truth).Except(Open).Where(v => v != "smear-possible" || !truth.Contains("smear"))];
                ImmutableArray<string> lost = heard.Contains("cannot-tell") ? [] : [.. truth.Except(heard).Intersect(alone).Except(Open)];
                yield return new(c.Index, truth, heard, wrong, [.. wrong.Except(alone)], lost);
            }
        }

        private static ImmutableArray<string> Names(IEnumerable<Verdict> verdicts) => [.. verdicts.Select(v => v.WireName())];
    }
}
