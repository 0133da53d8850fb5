using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Planning;

/// <summary>A part as it stands on the sheet, with the plan for playing it.</summary>
/// <param name="Score">The header and its other parts.</param>
/// <param name="Part">The part chosen, in the key that is played.</param>
/// <param name="Plan">How it is played.</param>
/// <param name="Settings">By whom and how it was planned.</param>
public sealed record PlannedSheet(Score Score, Part Part, Plan Plan, PlanSettings Settings)
{
    /// <summary>What reading the score and choosing the part said; the plan's own problems are not among them.</summary>
    public IReadOnlyList<Problem> Reading { get; init; } = [];

    /// <summary>Chooses the part, moves it to another key where one is wished, unfolds it and plans it; problems of every step are
    /// carried along.</summary>
    public static Outcome<PlannedSheet> Make(
        Score score, Instrument horn, string? partId, string? voice, double? tempo, PlanSettings settings, IEnumerable<Problem> before, KeyWish? key = null)
    {
        List<Problem> problems = [.. before];
        var part = PartChooser.Choose(score, horn, partId, voice);
        problems.AddRange(part.Problems);
        if (!part.Succeeded) return Outcome<PlannedSheet>.Failed(problems);
        problems = [.. PartChooser.About(problems, score, part.Value)];
        var moved = key is null ? Outcome<Part>.Of(part.Value) : key.Move(part.Value);
        if (!moved.Succeeded) return Outcome<PlannedSheet>.Failed([.. problems, .. moved.Problems]);
        List<Problem> reading = [.. problems];
        var planned = Planned(moved.Value, score.Title, horn, tempo, settings);
        problems.AddRange(planned.Problems);
        if (!planned.Succeeded) return Outcome<PlannedSheet>.Failed(problems);
        if (key is not null && key.Unplayable(part.Value, moved.Value, planned.Value) is { } missing) return Outcome<PlannedSheet>.Failed([.. problems.Where(p => p.Severity == Severity.Error), missing]);
        var whole = planned.Value with { Problems = [.. problems] };
        return Outcome<PlannedSheet>.Of(new PlannedSheet(score, moved.Value, whole, settings) { Reading = reading }, problems);
    }

    /// <summary>The same part planned at another tempo.</summary>
    /// <param name="quartersPerMinute">Of its first beat; later tempos follow.</param>
    public Outcome<Plan> At(double quartersPerMinute) => Planned(Part, Score.Title, Plan.Instrument, quartersPerMinute, Settings);

    private static Outcome<Plan> Planned(Part part, string title, Instrument horn, double? tempo, PlanSettings settings)
    {
        var line = Unfolder.Play(part, title, tempo);
        if (!line.Succeeded) return Outcome<Plan>.Failed(line.Problems);
        var plan = Planner.Plan(line.Value, horn, settings);
        return plan.Succeeded ? Outcome<Plan>.Of(plan.Value, [.. line.Problems, .. plan.Problems]) : Outcome<Plan>.Failed([.. line.Problems, .. plan.Problems]);
    }
}
