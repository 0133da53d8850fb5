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
    private const int Few = 5;

    /// <summary>Whether it is the scale's first five notes, for a range that holds no octave.</summary>
    public bool IsFive { get; init; }

    /// <summary>What is ordered; where nothing is said of octaves and an ordered key has no room for one, its first five notes: a first lesson needs no
    /// octave. Where no key is ordered and the horn's own has no room, or none with the places of the pupil's year, the nearest key that has it for five.</summary>
    /// <param name="order">Says octaves, way and degree.</param>
    /// <param name="pupil">For range and reach.</param>
    /// <param name="keys">Tonics and scales; at least one.</param>
    public static IReadOnlyList<(PitchName Tonic, ScaleRun Run)> Ordered(ExerciseOrder order, Pupil pupil, IReadOnlyList<(PitchName Tonic, Scale Scale)> keys)
    {
        var runs = keys.Select(k => (k.Tonic, Run: new ScaleRun(k.Scale, order.Octaves ?? 1, order.Way ?? ScaleWay.Both, order.Degree ?? 1))).ToList();
        if (order.Octaves is not null || order.Degree is not null || runs.Exists(r => r.Run.Scale.Count < Few)) return runs;
        List<(PitchName Tonic, ScaleRun Run)> fitting = [.. runs.Select(r => HasRoom(pupil, r.Tonic, r.Run) ? r : r with { Run = r.Run with { IsFive = true } })];
        if (order.Keys is { IsDefaultOrEmpty: false } || IsOfYear(pupil, fitting[0])) return fitting;
        var near = TwelveKeys.For(fitting[0].Run.Scale).OrderBy(t => Math.Abs(t.Fifths - fitting[0].Tonic.Fifths)).Select(t => (Tonic: t, Run: fitting[0].Run with { IsFive = true })).ToList();
        return near.Where(f => IsOfYear(pupil, f)).Take(1).ToList() is { Count: 1 } own ? own
            : HasRoom(pupil, fitting[0].Tonic, fitting[0].Run) ? fitting : [.. near.Where(f => HasRoom(pupil, f.Tonic, f.Run)).Take(1)];
    }

    private static bool HasRoom(Pupil pupil, PitchName tonic, ScaleRun run) => Placing.All(pupil, tonic, run.InOneGo).Count > 0;

    private static bool IsOfYear(Pupil pupil, (PitchName Tonic, ScaleRun Run) scale) => Placing.All(pupil, scale.Tonic, scale.Run.InOneGo)
        .Exists(first => scale.Run.InOneGo(first).All(n => pupil.SettingsFor(n).Any(s => Places.LevelOf(s) <= pupil.Level)));

    /// <summary>Behind a title; empty for whole octaves.</summary>
    public string Words => IsFive ? ", the first five notes" : "";

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
    public string Slug => (IsFive ? "-five-notes" : Octaves == 1 ? "" : $"-{Octaves}-octaves") + (Way == ScaleWay.Both ? "" : $"-{Way.ToString().ToLowerInvariant()}") + (Degree == 1 ? "" : $"-from-{Degree}");

    private ImmutableArray<Pitch> Up(Pitch tonic) => [.. Indices.Select(i => Scale.NoteAt(tonic, i))];

    private ImmutableArray<Pitch> Down(Pitch tonic) => [.. Indices.Reverse().Select(i => Scale.NoteAt(tonic, i, down: true))];

    private IEnumerable<int> Indices => Enumerable.Range((Degree - 1) % Scale.Count, IsFive ? Few : (Octaves * Scale.Count) + 1);
}
