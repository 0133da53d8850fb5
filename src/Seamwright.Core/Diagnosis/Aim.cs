using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>How often a take did what an exercise asked of its changes.</summary>
/// <param name="Intent">What was asked.</param>
/// <param name="Asked">How often.</param>
/// <param name="Fulfilled">How often it was heard as asked.</param>
/// <param name="Open">How often the recording does not settle it.</param>
/// <param name="Faults">What else was heard and how often, the most frequent first; a change may count twice.</param>
public sealed record Aim(ChangeIntent Intent, int Asked, int Fulfilled, int Open, ImmutableArray<(Verdict Verdict, int Count)> Faults)
{
    // What a tone on which the tongue is only imagined keeps from.
    private static readonly Verdict[] Kept = [Verdict.TongueHeard, Verdict.Unsteady];

    /// <summary>Imagined tones first, then one for each intent that was asked, in the order of their first change.</summary>
    /// <param name="notes">Judged.</param>
    /// <param name="changes">Judged.</param>
    /// <param name="plan">What was asked.</param>
    internal static ImmutableArray<Aim> Of(ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes, Planning.Plan plan) =>
        [.. Tones(notes, plan), .. Of(changes)];

    // Long tones of one note: no change says how they were held.
    private static IEnumerable<Aim> Tones(ImmutableArray<NoteJudgement> notes, Planning.Plan plan)
    {
        var tones = Listening.LongTone.Of(plan).Where(t => !t.Touched && t.First == t.Last).Select(t => notes[t.First]).ToList();
        if (tones.Count == 0) yield break;
        var open = tones.Count(n => n.Verdicts.All(v => v == Verdict.CannotTell));
        ImmutableArray<(Verdict, int Count)> faults = [.. Kept.Select(v => (v, tones.Count(n => n.Verdicts.Contains(v)))).Where(f => f.Item2 > 0).OrderByDescending(f => f.Item2)];
        yield return new(ChangeIntent.ImaginedTongue, tones.Count, tones.Count(n => !n.Verdicts.Intersect(Kept).Any()) - open, open, faults);
    }

    private static ImmutableArray<Aim> Of(ImmutableArray<ChangeJudgement> changes) =>
        [.. changes.Where(c => c.Intent is not null && c.Kind != Planning.ChangeKind.Breath).GroupBy(c => c.Intent!.Value).Select(g => Of(g.Key, [.. g]))];

    private static Aim Of(ChangeIntent intent, ChangeJudgement[] changes)
    {
        var faulty = changes.Where(c => TakeParts.Worst(c.Findings).Gravity() is Gravity.Fault or Gravity.Watch).ToList();
        var open = changes.Count(c => TakeParts.Worst(c.Findings).Gravity() == Gravity.Unknown);
        var counts = faulty.SelectMany(c => c.Verdicts.Where(v => v.Gravity() is Gravity.Fault or Gravity.Watch).Distinct()).GroupBy(v => v)
            .Select(g => (g.Key, g.Count())).OrderByDescending(g => g.Item2).ThenBy(g => g.Key);
        return new(intent, changes.Length, changes.Length - faulty.Count - open, open, [.. counts]);
    }

    /// <summary><c>2 of 14 slow slides were too short; the others were as asked.</c></summary>
    public string Sentence
    {
        get
        {
            var (one, many) = Names(Intent);
            var rest = Fulfilled == 0 ? "none was as asked" : $"{Fulfilled} {(Fulfilled == 1 ? "was" : "were")} as asked";
            var open = Open == 0 ? "" : $", {Open} cannot be told";
            if (Faults.IsEmpty && Open == 0) return Asked == 1 ? $"The {one} was as asked." : $"All {Asked} {many} were as asked.";
            if (Faults.IsEmpty) return $"Of {Asked} {(Asked == 1 ? one : many)} {rest}{open}.";
            return $"{string.Join("; ", Faults.Select((f, i) => i == 0 ? $"{f.Count} of {Asked} {(Asked == 1 ? one : many)} {Said(f.Verdict, f.Count)}" : $"{f.Count} {Said(f.Verdict, f.Count)}"))}; {rest}{open}.";
        }
    }

    private static (string One, string Many) Names(ChangeIntent intent) => intent switch
    {
        ChangeIntent.SlowSlide => ("slow slide", "slow slides"),
        ChangeIntent.FastSlide => ("fast slide", "fast slides"),
        ChangeIntent.SoftTongue => ("soft tongue", "soft tongues"),
        ChangeIntent.NaturalSlur => ("natural slur", "natural slurs"),
        ChangeIntent.ImaginedTongue => ("imagined tongue", "imagined tongues"),
        _ => ("light touch", "light touches"),
    };

    private static string Said(Verdict verdict, int count)
    {
        var was = count == 1 ? "was" : "were";
        return verdict switch
        {
            Verdict.TooShortSlide => $"{was} too short",
            Verdict.Crept => $"{was} too slow",
            Verdict.TongueHeard => $"{was} tongued",
            Verdict.NoTongue or Verdict.NoTouch => $"{was} missing",
            Verdict.TooHard => $"{was} too hard",
            Verdict.TongueEarly => "came early",
            Verdict.TongueLate => "came late",
            Verdict.Smear => "let the slide be heard",
            Verdict.SmearPossible => "may have let the slide be heard",
            Verdict.AirStopped => "stopped the air",
            Verdict.AirChanged => "changed the air",
            Verdict.Cracked => "cracked",
            Verdict.Slid => "slid instead of breaking",
            Verdict.Broke => "broke instead of sliding",
            Verdict.Bump => "burst",
            _ => $"{was} unsteady",
        };
    }
}
