using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A scale as it is run through: how far, which way, from which degree.</summary>
/// <param name="Scale">Which.</param>
/// <param name="Octaves">1 or 2.</param>
/// <param name="Way">Up, down or both; a breath stands between the two.</param>
/// <param name="Degree">Note of the scale it starts and ends on, from 1.</param>
internal sealed record ScaleRun(Scale Scale, int Octaves, ScaleWay Way, int Degree)
{
    /// <summary>One run, or one up and one down.</summary>
    /// <param name="tonic">The scale's first note below or at the lowest note of the run.</param>
    public IReadOnlyList<IReadOnlyList<Pitch>> From(Pitch tonic) => Way switch
    {
        ScaleWay.Up => [Run(tonic, Scale.Up)],
        ScaleWay.Down => [[.. Run(tonic, Scale.Down).Reverse()]],
        _ => [Run(tonic, Scale.Up), [.. Run(tonic, Scale.Down).Reverse()]],
    };

    private ImmutableArray<Pitch> Run(Pitch tonic, ImmutableArray<Interval> steps)
    {
        var first = (Degree - 1) % steps.Length;
        return [.. Enumerable.Range(first, (Octaves * steps.Length) + 1).Select(i => tonic + steps[i % steps.Length] + (Interval.Octave * (i / steps.Length)))];
    }
}
