using System.Collections.Immutable;

namespace Seamwright.Core.Exercises;

/// <summary>A kind of exercise that can be ordered by name.</summary>
/// <param name="Name">Small letters and <c>-</c>.</param>
/// <param name="Summary">One line for a list.</param>
/// <param name="Uses">Members of <see cref="ExerciseOrder"/> it reads, besides <see cref="ExerciseOrder.Tempos"/>.</param>
/// <param name="Make">Order and pupil to at least one exercise, or every reason why not.</param>
public sealed record ExerciseKind(string Name, string Summary, ImmutableArray<string> Uses, Func<ExerciseOrder, Pupil, Outcome<ExerciseSet>> Make)
{
    /// <summary>Whether it is drawn from music and cannot do without.</summary>
    public bool NeedsTune { get; init; }
}
