using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>Performances of a plan: clean, or with stated faults at stated changes.</summary>
/// <remarks>Clean figures lie inside what one orchestral player was measured to do on labelled phrases (natural slurs dip 5–16 dB
/// for about 45 ms, legato tongue 12–15 dB, tongued 19–24 dB; slides of one or two positions take 155–205 ms in all). Faults lie
/// well outside it, so that no ear can be in doubt. All are proposed defaults.</remarks>
public static class Playing
{
    // A slide of more positions still arrives in this time when the player is good.
    private static readonly Seconds FastestNeeded = Ms(170);

    // The breath before a note, where no rest is written: so long, and never more than this share of the note before.
    private static readonly Seconds BreathTime = Ms(180);
    private const double BreathShare = 0.35;

    /// <summary>Everything as planned.</summary>
    public static Performance Clean(Plan plan) => WithFaults(plan, ImmutableDictionary<int, Fault>.Empty);

    /// <summary>Faults at the changes named by index; everything else clean.</summary>
    public static Performance WithFaults(Plan plan, IReadOnlyDictionary<int, Fault> faults)
    {
        var cents = new Cents[plan.Notes.Length];
        foreach (var (index, _) in faults.Where(f => f.Value == Fault.OutOfTune)) cents[plan.Changes[index].ToNote] = new(FaultAmounts.Of(Fault.OutOfTune)!.Default);
        return new Performance
        {
            Changes = [.. plan.Changes.Select(c => Of(plan, c, faults.GetValueOrDefault(c.Index)))],
            Cents = [.. cents],
            Levels = AskedFaults.Levels(plan, c => faults.GetValueOrDefault(c.Index) == Fault.UnevenAir, FaultAmounts.Of(Fault.UnevenAir)!.Default),
        };
    }

    /// <summary>One change, played so.</summary>
    /// <param name="plan">The change's plan.</param>
    /// <param name="change">One of its changes.</param>
    /// <param name="fault">What is to go wrong.</param>
    /// <param name="amount">How much, in the unit and range of <see cref="FaultAmounts"/>. Null: its default.</param>
    /// <returns>With as much of the fault as <see cref="FaultRoom"/> has room for; clean where that is none.</returns>
    public static ChangeExecution Of(Plan plan, NoteChange change, Fault fault, double? amount = null)
    {
        var clean = Clean(plan, change);
        if (!FaultAmounts.Applies(fault, change) || FaultRoom.Fit(plan, change, fault, amount ?? FaultAmounts.Of(fault)?.Default ?? 0) is not { } much) return clean;
        return fault switch
        {
            Fault.Smeared => Slow(clean, much) with { Dip = new(2), DipWidth = Ms(30) },
            Fault.SlowSlide => Slow(clean, much),
            Fault.HurriedSlide => Slow(clean, much),
            Fault.Tongued => clean with { Dip = new(much), DipWidth = Ms(50) },
            Fault.NoTongue when change.SlideMotion == SlideMotion.Still => clean with { Dip = new(0), Bump = new(0) },
            Fault.NoTongue => Slow(clean, much) with { Dip = new(0), Bump = new(0) },
            Fault.LateTongue => Misplaced(clean, much, plan.StaysOnPartial(change)),
            Fault.EarlyTongue => Misplaced(clean, -much, plan.StaysOnPartial(change)),
            Fault.HardTongue => Hard(clean, much, plan.StaysOnPartial(change)),
            Fault.StoppedAir => clean with { Gap = Ms(much) },
            Fault.Cracked => clean with { Crack = new Crack(WrongPartial(plan, change), Ms(much)) },
            _ => clean,
        };
    }

    /// <summary>One change as a fine player makes it.</summary>
    internal static ChangeExecution Clean(Plan plan, NoteChange change)
    {
        var move = change.MoveTime < FastestNeeded ? change.MoveTime : FastestNeeded;
        if (change.Intent is { } asked && AskedPlaying.Of(asked, change, move) is { } execution) return Arriving(execution);
        return change.Kind switch
        {
            ChangeKind.Breath => new ChangeExecution { Rest = RestBefore(plan, change) },
            ChangeKind.Glissando => Arriving(new ChangeExecution { Move = 0.6 * change.TimeAvailable }),
            ChangeKind.Tongued => Arriving(new ChangeExecution { Move = move, Dip = new(22), DipWidth = Ms(60), Bump = new(1) }),
            ChangeKind.SoftTongue => Arriving(new ChangeExecution { Move = move, Dip = new(13), DipWidth = Hiding(move) }),

            // A valve hides no slide that moves with the pitch: the lips ease over it.
            ChangeKind.ValveSlur when change.SlideMotion != SlideMotion.Still => Arriving(new ChangeExecution { Move = move, Dip = new(11), DipWidth = Hiding(move) }),
            _ => Arriving(new ChangeExecution { Move = move, Dip = new(9), DipWidth = Ms(35) }),
        };
    }

    // Wide enough that no more than 20 ms of the glide stay louder than −6 dB, and no wider than a soft tongue is.
    private static Seconds Hiding(Seconds move) => new(Math.Clamp((MinimumJerk.TenToNinety * move.Value) - 0.02, 0.045, 0.08));

    // The arm arrives with the beat.
    private static ChangeExecution Arriving(ChangeExecution e) => e with { Centre = -(0.5 * e.Move) };

    private static ChangeExecution Slow(ChangeExecution clean, double glideMs)
    {
        var glide = Ms(glideMs);
        return Arriving(clean with { Glide = glide, Move = ChangeExecution.MoveFor(glide) });
    }

    // Where the partial changes too, the tongue is at its deepest first and the new partial speaks as it lets go, as players do who hit a note: the
    // two never beat where the level is lowest. The deeper, the longer the old one must have been still; lips that go over at once leave no break's own dip.
    // On one partial there is none: the tongue is as short as it is hard, and what it held up bursts.
    private static ChangeExecution Hard(ChangeExecution clean, double dip, bool onOne) =>
        clean with { Dip = new(dip), DipWidth = Ms(onOne ? 75 : 90), Bump = new(6), Lips = Ms(20), TongueFirst = Ms(dip < 20.5 ? 15 : 20) };

    // A tongue where none belongs touches as a soft one does. Where the partial changes there is the break's own dip beside it: the lips go over at
    // once, so that this is shallow and the new partial has won before the tongue takes its air away, and the tongue cuts deeper than the break.
    private static ChangeExecution Misplaced(ChangeExecution clean, double afterMs, bool onOne)
    {
        var touch = clean with { DipOffset = Ms(afterMs), Dip = new(Math.Max(clean.Dip.Value, 13)), DipWidth = Ms(45) };
        if (onOne) return touch;
        return afterMs switch
        {
            // A deep touch would choke the break it comes with; a long one does not need to be deep, and falls so slowly that the new partial wins.
            >= 0 and < 43 => touch with { Lips = Ms(14), DipWidth = Ms(afterMs < 33 ? 65 : 52) },
            >= 43 and < 58 => touch with { Lips = Ms(8), DipWidth = Ms(60), Dip = new(18) },

            // The shorter the nearer it lies, or the two would run together into one.
            < 0 and > -55 => touch with { Lips = Ms(afterMs > -25 ? 10 : 8), DipWidth = Ms(afterMs > -33 ? 38 : 55), Dip = new(18) },
            _ => touch with { Lips = Ms(20), Dip = new(18) },
        };
    }

    private static Seconds RestBefore(Plan plan, NoteChange change)
    {
        var before = plan.Notes[change.FromNote].Note;
        var written = plan.Notes[change.ToNote].Note.StartTime - before.EndTime;
        var breath = new Seconds(Math.Min(BreathTime.Value, BreathShare * before.Duration.Value));
        return written > breath ? written : breath;
    }

    // The neighbour above is what lips catch first; at the top, the one below.
    private static int WrongPartial(Plan plan, NoteChange change)
    {
        var right = plan.Notes[change.ToNote].Setting?.Partial ?? 2;
        var from = plan.Notes[change.FromNote].Setting?.Partial ?? 0;
        var above = right + 1 == from ? right + 2 : right + 1;
        return above <= plan.Instrument.HighestPartial ? above : right - 1;
    }

    private static Seconds Ms(double ms) => Seconds.FromMilliseconds(ms);
}
