using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>The three things to work on first: faults of one kind taken together, the heaviest kind first.</summary>
internal static class WorkList
{
    private const int Most = 3;
    private const int Named = 4;

    public static ImmutableArray<string> Of(Plan plan, string? tune, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
    {
        var groups = changes.Where(c => c.Weight >= 1 && !c.Verdicts.Contains(Verdict.AddedNote))
            .GroupBy(c => c.Findings[0].Sure)
            .Select(g => (Weight: g.Sum(c => c.Weight), Sentence: Sentence(plan, g.Key, Shown(g.Key, changes))));
        // A wrong note is worse than any that is badly reached; all that is heard of a slide rests on the tuning.
        IEnumerable<string> first = new[] { Wrong(plan, notes, changes), tune }.OfType<string>();
        return [.. first.Concat(groups.Append(Intonation(plan, notes)).Where(g => g.Weight > 0).OrderByDescending(g => g.Weight).Select(g => g.Sentence)).Take(Most)];
    }

    private static string? Wrong(Plan plan, ImmutableArray<NoteJudgement> notes, ImmutableArray<ChangeJudgement> changes)
    {
        var wrong = WrongNoteWords.Lines(plan, notes, changes);
        if (wrong.Length == 0) return null;
        var more = wrong.Length > Named ? $"; and {wrong.Length - Named} more" : "";
        return $"{(wrong.Length == 1 ? "A wrong note was" : $"{wrong.Length} wrong notes were")} played: {string.Join("; ", wrong.Take(Named))}{more}.";
    }

    // As in the table: wherever it occurs, though something worse may stand beside it. Where it occurs only as the least that something is, all of those.
    private static ChangeJudgement[] Shown(Verdict verdict, ImmutableArray<ChangeJudgement> changes)
    {
        var plain = changes.Where(c => c.Verdicts.Contains(verdict)).ToArray();
        return plain.Length > 0 ? plain : [.. changes.Where(c => c.Findings.Any(f => f.AtLeast == verdict))];
    }

    // In played order.
    private static string Sentence(Plan plan, Verdict verdict, ChangeJudgement[] sameKind)
    {
        var worst = sameKind.MaxBy(c => (c.Findings[0].Sure == verdict, c.Weight))!;
        var said = worst.Findings.First(f => f.Sure == verdict).Advice;
        var places = PlaceWords.Bars(plan, sameKind.Select(c => plan.Changes[c.Index].ToNote), Named, plan.Changes[worst.Index].ToNote);
        var how = sameKind.Length == 1 ? "once" : $"{sameKind.Length} times";
        var name = worst.Verdicts.Contains(verdict) ? Name(verdict) : "The tongue was too hard or the air stopped";
        return $"{name} {how} ({places}). {(sameKind.Length > 1 ? $"For instance {Place(plan, worst.Index)}: " : "")}{said}";
    }

    private static (double Weight, string Sentence) Intonation(Plan plan, ImmutableArray<NoteJudgement> notes)
    {
        var off = notes.Where(n => n.Verdicts.Contains(Verdict.OutOfTune)).OrderByDescending(n => Math.Abs(n.SlideCorrection?.Value ?? 0)).ToList();
        if (off.Count == 0) return (0, "");
        var bars = PlaceWords.Bars(plan, off.Select(n => n.Index).Order(), Named, off[0].Index);
        return (1.5 * off.Count, $"Out of tune {(off.Count == 1 ? "once" : $"{off.Count} times")} ({bars}). {off[0].Advice}");
    }

    private static string Place(Plan plan, int change) => TakeParts.BarOf(plan, plan.Notes[plan.Changes[change].ToNote].Note);

    private static string Name(Verdict verdict) => verdict switch
    {
        Verdict.AirStopped => "The air stopped",
        Verdict.Cracked => "A note cracked",
        Verdict.Smear => "A smear was heard",
        Verdict.NoTongue => "The tongue was missing",
        Verdict.TooHard => "The tongue was too hard",
        Verdict.TongueLate => "The tongue came late",
        Verdict.TongueEarly => "The tongue came early",
        Verdict.Bump => "The new note burst",
        Verdict.TongueHeard => "A tongue was heard",
        Verdict.Slid => "A slide was heard instead of a break",
        Verdict.Broke => "The slide broke",
        Verdict.TooShortSlide => "The slide was too short",
        Verdict.NoTouch => "A touch was missing",
        Verdict.AirChanged => "The air changed",
        Verdict.Crept => "The slide crept",
        Verdict.Unsteady => "The tone was unsteady",
        _ => "A smear may have been heard",
    };
}
