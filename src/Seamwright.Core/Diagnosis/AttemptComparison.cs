using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>The told pass beside the one before it, in a reader's words: which faults are fewer or more, and where.</summary>
/// <remarks>Only what both settle is counted: where one of the two cannot tell, neither is better.</remarks>
internal sealed class AttemptComparison
{
    // A pass counts as full that holds so much of the fullest one's notes.
    private const double Full = 0.9;
    private const int MostBars = 4;

    private readonly Plan plan;
    private readonly SortedDictionary<Verdict, (int Told, int Other)> kinds = [];
    private readonly SortedDictionary<int, (string Bar, int More)> bars = [];
    private readonly Dictionary<string, int> firstOf = [];
    private readonly (int Told, int Other) numbers;
    private (int Told, int Other, int Both) open;
    private (int More, int Less) plainness;

    private AttemptComparison(Plan plan, AttemptJudgement told, AttemptJudgement other, (int Told, int Other) numbers)
    {
        (this.plan, this.numbers) = (plan, numbers);
        foreach (var change in plan.Changes) Count(change.ToNote, told.Changes[change.Index].Findings, other.Changes[change.Index].Findings);
        foreach (var note in plan.Notes) Count(note.Note.Index, told.Notes[note.Note.Index].Findings, other.Notes[note.Note.Index].Findings);
    }

    /// <summary>At most two lines; empty without two full passes in the told one's key, the told one among them.</summary>
    /// <param name="take">With its attempts.</param>
    /// <param name="judged">One for each attempt.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="told">Which attempt is told; −1 for none.</param>
    public static ImmutableArray<string> Of(Take take, ImmutableArray<AttemptJudgement> judged, Plan plan, int told)
    {
        if (told < 0) return [];
        var inKey = Enumerable.Range(0, take.Attempts.Length).Where(i => take.Attempts[i].Transposition == take.Attempts[told].Transposition).ToList();
        var most = inKey.Max(i => take.Attempts[i].NotesFound);
        var full = inKey.Where(i => take.Attempts[i].NotesFound >= Full * most).ToList();
        if (full.Count < 2 || !full.Contains(told)) return [];
        var other = full.LastOrDefault(i => i < told, full.Find(i => i > told));
        var words = $"Attempt {told + 1} against attempt {other + 1}: {new AttemptComparison(plan, judged[told], judged[other], (told + 1, other + 1)).Words()}";
        return [words, .. Course([.. full.Where(i => !OpenChanges.In(take.Attempts[i], judged[i]).IsMuch).Select(i => (i + 1, judged[i].ToMend))])];
    }

    // From the first to the last, and the best: each attempt's own number stands in its line. Where much of one was not judged its number says little.
    private static IEnumerable<string> Course(List<(int Attempt, int ToMend)> full)
    {
        if (full.Count < 3) yield break;
        var ((first, before), (last, after)) = (full[0], full[^1]);
        var least = full.Min(f => f.ToMend);
        if (full.TrueForAll(f => f.ToMend == least))
        {
            yield return $"Changes to mend: {least} in each of the {full.Count} full attempts.";
            yield break;
        }

        var best = full.Where(f => f.ToMend == least).Select(f => f.Attempt).ToList();
        var fewest = before == least || after == least ? "" : $"; fewest in {(best.Count == 1 ? "attempt" : "attempts")} {Listed(best)}: {least}";
        yield return $"Changes to mend: {before} in attempt {first}, {after} in attempt {last}{fewest}.";
    }

    private static string Listed(List<int> numbers) => numbers.Count > MostBars
        ? $"{string.Join(", ", numbers.Take(MostBars))} and {numbers.Count - MostBars} more"
        : numbers.Count == 1 ? $"{numbers[0]}" : $"{string.Join(", ", numbers.SkipLast(1))} and {numbers[^1]}";

    private void Count(int note, IReadOnlyCollection<Finding> ours, IReadOnlyCollection<Finding> theirs)
    {
        if (IsOpen(ours) || IsOpen(theirs))
        {
            open = (open.Told + (IsOpen(ours) ? 1 : 0), open.Other + (IsOpen(theirs) ? 1 : 0), open.Both + 1);
            return;
        }

        var (a, b) = (Faults(ours), Faults(theirs));
        var plainer = Plainness(ours, theirs);
        plainness = (plainness.More + (plainer > 0 ? 1 : 0), plainness.Less + (plainer < 0 ? 1 : 0));
        foreach (var v in a) kinds[v] = (kinds.GetValueOrDefault(v).Told + 1, kinds.GetValueOrDefault(v).Other);
        foreach (var v in b) kinds[v] = (kinds.GetValueOrDefault(v).Told, kinds.GetValueOrDefault(v).Other + 1);
        var bar = TakeParts.BarOf(plan, plan.Notes[note].Note) + TakeParts.PassWords(plan.Notes[note].Note.Pass);
        var first = firstOf.TryGetValue(bar, out var known) ? known : firstOf[bar] = note;
        bars[first] = (bar, bars.GetValueOrDefault(first).More + a.Count - b.Count + plainer);
    }

    private string Words()
    {
        var fewer = kinds.Where(k => k.Value.Told < k.Value.Other).ToList();
        var more = kinds.Where(k => k.Value.Told > k.Value.Other).ToList();
        string[] counts = [Counts("fewer", fewer), Counts("more", more), Times("the slide is heard more plainly", plainness.More), Times("the slide is heard less plainly", plainness.Less)];
        var alike = kinds.Count == 0 ? "no fault in either" : "as many faults of each kind";
        var said = string.Join("; ", counts.Where(c => c.Length > 0).Prepend(fewer.Count + more.Count == 0 ? alike : "").Where(c => c.Length > 0));
        string[] places = [Places("better", bars.Values.Where(b => b.More < 0)), Places("worse", bars.Values.Where(b => b.More > 0))];
        var where = string.Join("; ", places.Where(p => p.Length > 0));
        var rest = where.Length == 0 ? "" : $" {char.ToUpperInvariant(where[0])}{where[1..]}.";
        var all = plan.Changes.Length + plan.Notes.Length;
        var unsettled = $"{open.Both} of {all} notes and changes cannot be compared, for {Opener} {(open.Both == 1 ? "it" : "them")} open";

        // Where they are many, what the others say is said of those alone.
        if (OpenChanges.IsMany(open.Both, all)) return $"{unsettled}; in the rest {said}.{rest}";
        return $"{said}.{rest}{(open.Both == 0 ? "" : $" {unsettled}.")}";
    }

    private string Opener => (open.Told, open.Other) switch
    {
        ( > 0, 0) => $"attempt {numbers.Told} leaves",
        (0, > 0) => $"attempt {numbers.Other} leaves",
        _ => "one attempt or the other leaves",
    };

    private static string Times(string what, int times) => times == 0 ? "" : $"{what} {(times == 1 ? "once" : $"{times} times")}";

    // A slide that may be heard and one that plainly is are one fault; 1 where ours is the plainer one.
    private static int Plainness(IReadOnlyCollection<Finding> ours, IReadOnlyCollection<Finding> theirs)
    {
        bool Is(IEnumerable<Finding> findings, Verdict verdict) => findings.Any(f => f.Verdict == verdict);
        if (Is(ours, Verdict.Smear)) return Is(theirs, Verdict.SmearPossible) && !Is(theirs, Verdict.Smear) ? 1 : 0;
        return Is(ours, Verdict.SmearPossible) && Is(theirs, Verdict.Smear) ? -1 : 0;
    }

    private static string Counts(string word, List<KeyValuePair<Verdict, (int Told, int Other)>> kinds) => kinds.Count == 0
        ? ""
        : $"{word}: {string.Join(", ", kinds.OrderByDescending(k => Math.Abs(k.Value.Told - k.Value.Other)).Select(k => $"{k.Key.Words()} {k.Value.Told} instead of {k.Value.Other}"))}";

    private static string Places(string word, IEnumerable<(string Bar, int More)> bars)
    {
        var named = bars.Select(b => b.Bar).ToList();
        return named.Count == 0 ? "" : $"{word} in {string.Join(", ", named.Take(MostBars))}{(named.Count > MostBars ? $" and {named.Count - MostBars} more" : "")}";
    }

    private static bool IsOpen(IReadOnlyCollection<Finding> findings) => TakeParts.Worst(findings) == Verdict.CannotTell;

    private static HashSet<Verdict> Faults(IReadOnlyCollection<Finding> findings) =>
        [.. findings.Select(f => f.Verdict).Where(v => v.Gravity() is Gravity.Fault or Gravity.Watch).Select(v => v == Verdict.SmearPossible ? Verdict.Smear : v)];
}
