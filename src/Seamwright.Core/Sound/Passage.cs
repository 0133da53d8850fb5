using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>The way of the pitch from one sounding note to the next, in real time.</summary>
/// <remarks>Times are seconds, pitches base-2 logarithms of Hz. Slide travel is a minimum-jerk movement; what sounds is the
/// instrument's own formula at that travel, on the old partial and tube before the break and on the new one after it.</remarks>
internal sealed class Passage
{
    private readonly Instrument instrument;
    private readonly SlideSetting from, to;
    private readonly double fromCents, toCents, moveStart, move, breakTime, breakLength;
    private readonly Crack? crack;

    /// <summary>Between two notes of the plan, by index.</summary>
    /// <param name="instrument">What is played.</param>
    /// <param name="from">The note before.</param>
    /// <param name="to">The note after.</param>
    /// <param name="execution">How.</param>
    /// <param name="centre">Middle of the movement.</param>
    /// <param name="earliest">The movement before ends here; this one cannot begin sooner.</param>
    public Passage(Instrument instrument, PassageEnd from, PassageEnd to, ChangeExecution execution, double centre, double earliest)
    {
        this.instrument = instrument;
        (this.from, fromCents) = (from.Setting, from.Cents);
        (this.to, toCents) = (to.Setting, to.Cents);
        (FromNote, ToNote) = (from.Note, to.Note);
        Execution = execution;
        crack = execution.Crack;
        breakLength = execution.Break.Value;
        move = Math.Max(execution.Move.Value, breakLength);
        moveStart = Math.Max(earliest, centre - (move / 2));
        breakTime = moveStart + (execution.BreakAt * move);
        Start = Math.Min(moveStart, breakTime - (breakLength / 2));
        End = Math.Max(moveStart + move, BreakEnd + (breakLength / 2));
    }

    public int FromNote { get; }

    public int ToNote { get; }

    public ChangeExecution Execution { get; }

    /// <summary>The pitch begins to leave the first note.</summary>
    public double Start { get; }

    /// <summary>The pitch has arrived.</summary>
    public double End { get; }

    public double Middle => moveStart + (move / 2);

    public Crack? Crack => crack;

    /// <summary>How the note before is played.</summary>
    public SlideSetting From => from;

    /// <summary>How the note after is played.</summary>
    public SlideSetting To => to;

    /// <summary>Cents asked for beside what the first setting sounds.</summary>
    public double FromCents => fromCents;

    /// <summary>Cents asked for beside what the second setting sounds.</summary>
    public double ToCents => toCents;

    /// <summary>When the first partial is to give way.</summary>
    public double BreakTime => breakTime;

    /// <summary>Middle of the time for which the wrong partial sounds.</summary>
    public double CrackMiddle => (breakTime + BreakEnd) / 2;

    /// <summary>Whether the pitch stays on one partial of one tube all the way.</summary>
    public bool OnOnePartial => crack is null && from.Side.Id == to.Side.Id && from.Partial == to.Partial;

    public double FromPitch => At(Start);

    public double ToPitch => At(End);

    /// <summary>When the second partial is to hold: later than <see cref="BreakTime"/> only by a wrong partial's time.</summary>
    public double BreakEnd => breakTime + (crack?.Duration.Value ?? 0);

    /// <summary>Share of the arm's way, 0 to 1.</summary>
    public double ArmAt(double t) => MinimumJerk.Progress((t - moveStart) / move);

    /// <summary>Pitch at a time.</summary>
    public double At(double t)
    {
        var progress = ArmAt(t);
        var travel = from.Travel.Value + ((to.Travel.Value - from.Travel.Value) * progress);
        var lip = (fromCents + ((toCents - fromCents) * progress)) / 1200;
        var before = Sounding(from.Side, from.Partial, travel);
        if (OnOnePartial) return before + lip;
        var after = Sounding(to.Side, to.Partial, travel);
        if (crack is null) return before + ((after - before) * Broken(t, breakTime)) + lip;
        var wrong = Sounding(to.Side, crack.Partial, travel);
        return before + ((wrong - before) * Broken(t, breakTime)) + ((after - wrong) * Broken(t, BreakEnd)) + lip;
    }

    private double Sounding(Side side, int partial, double travel) => Math.Log2(instrument.Sounding(side, partial, new(travel)).Value);

    private double Broken(double t, double at)
    {
        var x = Math.Clamp(((t - at) / breakLength) + 0.5, 0, 1);
        return x * x * (3 - (2 * x));
    }
}

/// <summary>A note at one end of a passage.</summary>
/// <param name="Note">Its index in the plan.</param>
/// <param name="Setting">How it is played.</param>
/// <param name="Cents">Beside what the setting sounds.</param>
internal readonly record struct PassageEnd(int Note, SlideSetting Setting, double Cents);
