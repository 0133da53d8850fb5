using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis;

/// <summary>What a pupil may have to work on: verdicts that one exercise helps against.</summary>
public enum FaultKind
{
    /// <summary>The air stops or changes.</summary>
    Air,

    /// <summary>A slur catches another partial, slides where it was to break, or breaks where it was to slide.</summary>
    Partial,

    /// <summary>The slide is heard where it was not to be.</summary>
    Smear,

    /// <summary>The tongue is not with the slide.</summary>
    Timing,

    /// <summary>The tongue is hard, or there where none was asked for.</summary>
    HardTongue,

    /// <summary>A touch is missing where no slide is heard.</summary>
    MissingTouch,

    /// <summary>A slow slide is too short.</summary>
    HurriedSlide,

    /// <summary>Notes are out of tune.</summary>
    Tuning,
}

/// <summary>All faults of one kind in a take.</summary>
/// <param name="Kind">Which.</param>
/// <param name="Weight">How often, times how bad, times how sure.</param>
/// <param name="Changes">Changes that show it, the worst first; empty for <see cref="FaultKind.Tuning"/>.</param>
/// <param name="Notes">Notes that show it, the worst first; empty but for <see cref="FaultKind.Tuning"/>.</param>
/// <param name="Basis">Figures of the worst.</param>
/// <remarks>Weight: each verdict's gravity, 6 for stopped air down to 1 for a smear that may be heard, counts whole where nothing at the change is
/// left open and 0.6 where something is (proposed defaults).</remarks>
public sealed record FaultGroup(FaultKind Kind, double Weight, ImmutableArray<int> Changes, ImmutableArray<int> Notes, string Basis)
{
    private const double WhereSomethingIsOpen = 0.6;

    /// <summary>Those of a diagnosis, the heaviest first.</summary>
    public static ImmutableArray<FaultGroup> Of(Diagnosis diagnosis)
    {
        var changes = diagnosis.Changes.SelectMany(c => c.Findings.Where(f => KindOf(f.Sure, c) is not null).Select(f => (Change: c, Finding: f, Kind: KindOf(f.Sure, c)!.Value, Weight: Weighed(f.Sure, c.Verdicts))))
            .GroupBy(x => x.Kind)
            .Select(g => (g.Key, All: g.GroupBy(x => x.Change.Index).Select(x => (Index: x.Key, Weight: x.Sum(y => y.Weight), x.MaxBy(y => y.Weight).Finding)).OrderByDescending(x => x.Weight).ThenBy(x => x.Index).ToList()))
            .Select(g => new FaultGroup(g.Key, g.All.Sum(x => x.Weight), [.. g.All.Select(x => x.Index)], [], Figures(g.All[0].Finding.Basis)));
        return [.. changes.Concat(Tuning(diagnosis)).OrderByDescending(g => g.Weight).ThenBy(g => g.Kind)];
    }

    private static IEnumerable<FaultGroup> Tuning(Diagnosis diagnosis)
    {
        var off = diagnosis.Notes.Where(n => n.Verdicts.Contains(Verdict.OutOfTune)).OrderByDescending(n => Math.Abs(n.Cents?.Value ?? 0)).ThenBy(n => n.Index).ToList();
        if (off.Count == 0) yield break;
        yield return new(FaultKind.Tuning, off.Sum(n => Weighed(Verdict.OutOfTune, n.Verdicts)), [], [.. off.Select(n => n.Index)], Figures(off[0].Findings.First(f => f.Verdict == Verdict.OutOfTune).Basis));
    }

    private static double Weighed(Verdict verdict, ImmutableArray<Verdict> beside) => verdict.Badness() * (beside.Contains(Verdict.CannotTell) ? WhereSomethingIsOpen : 1);

    // The figure without the limit behind it.
    private static string Figures(string basis) => basis.Split(';', 2)[0];

    private static FaultKind? KindOf(Verdict verdict, ChangeJudgement change) => verdict switch
    {
        Verdict.AirStopped or Verdict.AirChanged => FaultKind.Air,
        Verdict.Cracked or Verdict.Slid or Verdict.Broke => FaultKind.Partial,
        // A tongue that comes beside the slide lets it be heard: that smear is the tongue's.
        Verdict.Smear or Verdict.SmearPossible when change.Verdicts.Any(v => v is Verdict.TongueEarly or Verdict.TongueLate) => FaultKind.Timing,
        Verdict.Smear or Verdict.SmearPossible or Verdict.Crept => FaultKind.Smear,
        Verdict.NoTongue when change.Verdicts.Any(v => v is Verdict.Smear or Verdict.SmearPossible) => FaultKind.Smear,
        Verdict.TongueEarly or Verdict.TongueLate => FaultKind.Timing,
        Verdict.TooHard or Verdict.Bump or Verdict.TongueHeard => FaultKind.HardTongue,
        Verdict.NoTongue or Verdict.NoTouch => FaultKind.MissingTouch,
        Verdict.TooShortSlide => FaultKind.HurriedSlide,
        _ => null,
    };
}
