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
        foreach (var (index, fault) in faults.Where(f => f.Value == Fault.OutOfTune)) cents[plan.Changes[index].ToNote] = new(35);
        return new Performance
        {
            Changes = [.. plan.Changes.Select(c => Of(plan, c, faults.GetValueOrDefault(c.Index)))],
            Cents = [.. cents],
        };
    }

    /// <summary>One change, played so.</summary>
    public static ChangeExecution Of(Plan plan, NoteChange change, Fault fault)
    {
        var clean = CleanOf(plan, change);
        return fault switch
        {
            Fault.Smeared => Arriving(clean with { Move = Slow(change, 330), Dip = new(2), DipWidth = Ms(30) }),
            Fault.NoTongue => Arriving(clean with { Move = Slow(change, 260), Dip = new(0) }),
            Fault.LateTongue => clean with { DipOffset = Ms(90), DipWidth = Ms(45) },
            Fault.EarlyTongue => clean with { DipOffset = Ms(-90), DipWidth = Ms(45) },
            Fault.HardTongue => clean with { Dip = new(27), DipWidth = Ms(75), Bump = new(6) },
            Fault.StoppedAir => clean with { Gap = Ms(70) },
            Fault.Cracked => clean with { Crack = new Crack(WrongPartial(plan, change), Ms(80)) },
            _ => clean,
        };
    }

    private static ChangeExecution CleanOf(Plan plan, NoteChange change)
    {
        var move = change.MoveTime < FastestNeeded ? change.MoveTime : FastestNeeded;
        return change.Kind switch
        {
            ChangeKind.Breath => new ChangeExecution { Rest = RestBefore(plan, change) },
            ChangeKind.Glissando => Arriving(new ChangeExecution { Move = 0.6 * change.TimeAvailable }),
            ChangeKind.Tongued => Arriving(new ChangeExecution { Move = move, Dip = new(22), DipWidth = Ms(60), Bump = new(1) }),
            ChangeKind.SoftTongue => Arriving(new ChangeExecution { Move = move, Dip = new(13), DipWidth = Hiding(move) }),
            _ => Arriving(new ChangeExecution { Move = move, Dip = new(9), DipWidth = Ms(35) }),
        };
    }

    // Wide enough that no more than 20 ms of the glide stay louder than −6 dB, and no wider than a soft tongue is.
    private static Seconds Hiding(Seconds move) => new(Math.Clamp((MinimumJerk.TenToNinety * move.Value) - 0.02, 0.045, 0.08));

    // The arm arrives with the beat.
    private static ChangeExecution Arriving(ChangeExecution e) => e with { Centre = -(0.5 * e.Move) };

    private static Seconds Slow(NoteChange change, double ms) => change.MoveTime.Value == 0 ? Seconds.Zero : new(Math.Min(ms / 1000, 0.8 * change.TimeAvailable.Value));

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
