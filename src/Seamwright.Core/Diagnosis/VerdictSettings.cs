using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>Every limit a verdict rests on.</summary>
/// <remarks>Limits without a named source are proposed defaults, set between the articulations of one orchestral player measured
/// on labelled phrases (legato, tenuto, tongued slur, staccato; slurred intervals of 1–12 semitones).</remarks>
public sealed record VerdictSettings
{
    /// <summary>The limits as proposed.</summary>
    public static readonly VerdictSettings Default = new();

    /// <summary>A dip less deep than this is not heard. Default 1 dB (just noticeable level difference 0.5–1 dB, OpenLearn Hearing 10.3).</summary>
    public Decibels DipHeard { get; init; } = new(1);

    /// <summary>Deepest dip of a soft tongue. Default 16 dB, proposed.</summary>
    public Decibels SoftDip { get; init; } = new(16);

    /// <summary>Longest time below −10 dB of a soft tongue. Default 45 ms, proposed.</summary>
    public Seconds SoftBelow10 { get; init; } = Seconds.FromMilliseconds(45);

    /// <summary>Most a softly tongued note may exceed its own level. Default 2 dB, proposed.</summary>
    public Decibels SoftOvershoot { get; init; } = new(2);

    /// <summary>A deeper dip is too hard. Default 20 dB, proposed.</summary>
    public Decibels HardDip { get; init; } = new(20);

    /// <summary>A longer time below −10 dB is too hard. Default 60 ms, proposed.</summary>
    public Seconds HardBelow10 { get; init; } = Seconds.FromMilliseconds(60);

    /// <summary>A larger overshoot within 80 ms is a bump. Default 3 dB, proposed.</summary>
    public Decibels Bump { get; init; } = new(3);

    /// <summary>The air stopped where the level lies 20 dB down for at least this long. Default 10 ms, proposed.</summary>
    public Seconds AirStopped { get; init; } = Seconds.FromMilliseconds(10);

    /// <summary>Audible glide, times semitones, from which a smear is possible. Default 80 ms, half the threshold below.</summary>
    public Seconds SmearPossible { get; init; } = Seconds.FromMilliseconds(80);

    /// <summary>Audible glide, times semitones, from which a smear is clear. Default 160 ms: a glide is heard where its rate is
    /// over 0.16/T² semitones a second ('t Hart 1976).</summary>
    public Seconds SmearClear { get; init; } = Seconds.FromMilliseconds(160);

    /// <summary>No glide shorter than this is a smear, however wide. Default 50 ms, proposed.</summary>
    public Seconds SmearNeverUnder { get; init; } = Seconds.FromMilliseconds(50);

    /// <summary>Tongue and arm count as together up to this distance. Default 20 ms (order of two events is heard from 20 ms,
    /// Watson, Semin. Hear. 25 (2004)).</summary>
    public Seconds TongueTogether { get; init; } = Seconds.FromMilliseconds(20);

    /// <summary>Beyond this the tongue is early or late. Default 60 ms (order is sure beyond 60 ms, same source).</summary>
    public Seconds TongueOff { get; init; } = Seconds.FromMilliseconds(60);

    /// <summary>A pitch caught on the way and held for so long is a note that was added, not a crack. Default 150 ms, proposed: longer than any slip
    /// between partials that was met (30 to 120 ms), and a sixteenth at quarter = 100.</summary>
    public Seconds AddedNote { get; init; } = Seconds.FromMilliseconds(150);

    /// <summary>In tune up to this. Default 10 cents (pitch just heard by musicians, Arndt et al., Exp Brain Res 238).</summary>
    public Cents InTune { get; init; } = new(10);

    /// <summary>Out of tune beyond this. Default 25 cents (Larrouy-Maestri, Music and Science 2018).</summary>
    public Cents OutOfTune { get; init; } = new(25);

    /// <summary>Where no tongue is asked for, a deeper dip is one; where one is, a shallower dip has no time. Default 3 dB, proposed: between what is just heard (1 dB) and the
    /// shallowest tenth of one fine player's legato (5 dB).</summary>
    public Decibels TongueDip { get; init; } = new(3);

    /// <summary>Deepest dip of a slur that breaks by itself. Default 18 dB, proposed: nine in ten of one fine player's legato and
    /// tenuto changes stay above it.</summary>
    public Decibels NaturalDip { get; init; } = new(18);

    /// <summary>A slow slide takes at least this share of the time from note to note, 10 to 90 % of its way. Default 0.25, proposed:
    /// half of what a minimum-jerk movement over the whole time takes (0.51).</summary>
    public double SlowSlideShare { get; init; } = 0.25;

    /// <summary>A fast slide takes at most so many times the planned glide. Default 1.25, proposed.</summary>
    public double FastSlideRatio { get; init; } = 1.25;

    /// <summary>Most a steady tone's pitch may move. Default 10 cents (pitch just heard by musicians, Arndt et al., Exp Brain Res 238).</summary>
    public Cents SteadyPitch { get; init; } = new(10);

    /// <summary>From one touch to the next the level may change by so much. Default 2 dB, proposed: twice what is just heard.</summary>
    public Decibels AirChanged { get; init; } = new(2);

    /// <summary>An arm that sets off so much before its planned moment is early. Default 60 ms (order is sure beyond 60 ms,
    /// Watson, Semin. Hear. 25 (2004)).</summary>
    public Seconds ArmEarly { get; init; } = Seconds.FromMilliseconds(60);

    /// <summary>Every limit that is negative, not a number, or out of order with its neighbour.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Ordered("dip", "dB", (nameof(DipHeard), DipHeard.Value), (nameof(SoftDip), SoftDip.Value), (nameof(HardDip), HardDip.Value));
        Ordered("time below −10 dB", "s", (nameof(SoftBelow10), SoftBelow10.Value), (nameof(HardBelow10), HardBelow10.Value));
        Ordered("overshoot", "dB", (nameof(SoftOvershoot), SoftOvershoot.Value), (nameof(Bump), Bump.Value));
        Ordered("stopped air", "s", (nameof(AirStopped), AirStopped.Value));
        Ordered("smear", "s", (nameof(SmearPossible), SmearPossible.Value), (nameof(SmearClear), SmearClear.Value));
        Ordered("smear", "s", (nameof(SmearNeverUnder), SmearNeverUnder.Value));
        Ordered("added note", "s", (nameof(AddedNote), AddedNote.Value));
        Ordered("tongue timing", "s", (nameof(TongueTogether), TongueTogether.Value), (nameof(TongueOff), TongueOff.Value));
        Ordered("tongue where none is asked for", "dB", (nameof(TongueDip), TongueDip.Value), (nameof(NaturalDip), NaturalDip.Value));
        Ordered("slow slide", "of the time", (nameof(SlowSlideShare), SlowSlideShare));
        Ordered("fast slide", "times the plan", (nameof(FastSlideRatio), FastSlideRatio));
        Ordered("steady pitch", "cents", (nameof(SteadyPitch), SteadyPitch.Value));
        Ordered("steady air", "dB", (nameof(AirChanged), AirChanged.Value));
        Ordered("early arm", "s", (nameof(ArmEarly), ArmEarly.Value));
        Ordered("intonation", "cents", (nameof(InTune), InTune.Value), (nameof(OutOfTune), OutOfTune.Value));
        return problems.ToImmutable();

        void Ordered(string what, string unit, params (string Name, double Value)[] limits)
        {
            var least = 0.0;
            foreach (var (name, value) in limits)
            {
                if (!(value >= least && double.IsFinite(value)))
                    problems.Add(new Problem($"verdicts.{name}", $"The {what} limit is {value} {unit}.", $"It must be at least {least} {unit}.", Severity.Error));
                else
                    least = value;
            }
        }
    }
}
