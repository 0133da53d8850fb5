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
        ScaleWay.Up => [Up(tonic)],
        ScaleWay.Down => [Down(tonic)],
        _ => [Up(tonic), Down(tonic)],
    };

    /// <summary>In one go: up, down, or up and down again without playing the top note twice.</summary>
    public IReadOnlyList<Pitch> InOneGo(Pitch tonic) => Way == ScaleWay.Both ? [.. Up(tonic), .. Down(tonic).Skip(1)] : From(tonic)[0];

    /// <summary>For ids: empty for one octave up and down from the first degree.</summary>
    public string Slug => (Octaves == 1 ? "" : $"-{Octaves}-octaves") + (Way == ScaleWay.Both ? "" : $"-{Way.ToString().ToLowerInvariant()}") + (Degree == 1 ? "" : $"-from-{Degree}");

    private ImmutableArray<Pitch> Up(Pitch tonic) => [.. Indices.Select(i => Scale.NoteAt(tonic, i))];

    private ImmutableArray<Pitch> Down(Pitch tonic) => [.. Indices.Reverse().Select(i => Scale.NoteAt(tonic, i, down: true))];

    private IEnumerable<int> Indices => Enumerable.Range((Degree - 1) % Scale.Count, (Octaves * Scale.Count) + 1);
}
