using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>How strong a beat is.</summary>
public enum BeatStrength
{
    /// <summary>The first of the bar.</summary>
    Downbeat,

    /// <summary>The first of a later group of beats: three in a bar of four.</summary>
    Group,

    /// <summary>Any other beat that is counted.</summary>
    Beat,

    /// <summary>Between two beats.</summary>
    Subdivision,
}

/// <summary>One counted beat of a whole bar.</summary>
/// <param name="Offset">From the bar line.</param>
/// <param name="Length">To the next one.</param>
/// <param name="Units">How many of the meter's lower number it holds where it is made of those (3 in compound time); else 1.</param>
/// <param name="Strength">How strong it is.</param>
public readonly record struct Pulse(Beats Offset, Beats Length, int Units, BeatStrength Strength);

/// <summary>The beats a conductor shows in each meter (common practice).</summary>
/// <remarks>Compound time (6, 9, 12 … over 8 or shorter; 6, 9 over 4) is counted in threes, an additive meter by the groups its sheet says. Where
/// the sheet says none: 5 is 3+2, 7 is 2+2+3 over 8 and 4+3 over 4, 8 over 8 is 3+3+2; in other uneven ones threes after twos.
/// Groups of values shorter than a quarter are one beat each, but bars of up to three and groups of more than four are counted singly; of
/// longer values every one is a beat and the group's first is stressed.</remarks>
public static class Pulses
{
    /// <summary>The beats of a whole bar, at least one, without gaps.</summary>
    public static ImmutableArray<Pulse> Of(Meter meter)
    {
        var groups = meter.Groups.IsEmpty ? Usual(meter) : [.. meter.Groups];
        var whole = meter.BeatUnit >= 8 ? meter.Beats > 3 && groups.TrueForAll(g => g <= 4) : IsCompound(meter) && meter.Groups.IsEmpty;
        return whole ? GroupBeats(meter, groups) : SingleBeats(meter, groups);
    }

    private static ImmutableArray<Pulse> GroupBeats(Meter meter, List<int> groups)
    {
        var pulses = ImmutableArray.CreateBuilder<Pulse>(groups.Count);
        var at = 0;
        for (var i = 0; i < groups.Count; i++)
        {
            var strength = i == 0 ? BeatStrength.Downbeat : groups.Count == 4 && i == 2 ? BeatStrength.Group : BeatStrength.Beat;
            pulses.Add(new Pulse(meter.Beat * at, meter.Beat * groups[i], groups[i], strength));
            at += groups[i];
        }

        return pulses.MoveToImmutable();
    }

    private static ImmutableArray<Pulse> SingleBeats(Meter meter, List<int> groups)
    {
        var starts = new HashSet<int>();
        var at = 0;
        foreach (var group in groups)
        {
            starts.Add(at);
            at += group;
        }

        return [.. Enumerable.Range(0, meter.Beats).Select(i => new Pulse(meter.Beat * i, meter.Beat, 1,
            i == 0 ? BeatStrength.Downbeat : starts.Contains(i) ? BeatStrength.Group : BeatStrength.Beat))];
    }

    private static bool IsCompound(Meter meter) => meter.Beats > 3 && meter.Beats % 3 == 0 && (meter.BeatUnit >= 8 || meter is { BeatUnit: 4, Beats: 6 or 9 });

    private static List<int> Usual(Meter meter) => meter switch
    {
        _ when IsCompound(meter) => [.. Enumerable.Repeat(3, meter.Beats / 3)],
        { Beats: <= 3 } => [meter.Beats],
        { Beats: 4 } => [2, 2],
        { Beats: 5 } => [3, 2],
        { Beats: 7, BeatUnit: 8 } => [2, 2, 3],
        { Beats: 7 } => [4, 3],
        { Beats: 8, BeatUnit: 8 } => [3, 3, 2],
        _ when meter.Beats % 2 == 0 => [.. Enumerable.Repeat(2, meter.Beats / 2)],
        _ => [.. Enumerable.Repeat(2, (meter.Beats - 3) / 2), 3],
    };
}
