using System.Collections.Immutable;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Says when each arm movement came, against the beat as this player keeps it.</summary>
internal static class Leads
{
    private const int Neighbours = 4;
    private const int Fewest = 4;

    public static ImmutableArray<HeardChange> Add(Plan plan, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes) =>
        [.. changes.Select(c => c.Arm is { } arm && Beat(plan, notes, plan.Changes[c.Index].ToNote) is { } beat
            ? c with { Arm = arm with { Lead = new(((arm.Start.Value + arm.End.Value) / 2) - beat) } }
            : c)];

    // The moment at which a note was due: a line through its neighbours' beginnings, itself left out.
    private static double? Beat(Plan plan, ImmutableArray<HeardNote> notes, int index)
    {
        var near = Enumerable.Range(Math.Max(0, index - Neighbours), Math.Min(notes.Length, index + Neighbours + 1) - Math.Max(0, index - Neighbours))
            .Where(i => i != index && notes[i].Onset is not null).ToArray();
        if (near.Length < Fewest) return null;
        var (intercept, slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit(
            [.. near.Select(i => plan.Notes[i].Note.StartTime.Value)], [.. near.Select(i => notes[i].Onset!.Value.Value)]);
        return intercept + (slope * plan.Notes[index].Note.StartTime.Value);
    }
}
