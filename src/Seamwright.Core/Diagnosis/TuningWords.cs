using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>A whole pass that lies sharp or flat, in a reader's words.</summary>
internal static class TuningWords
{
    // A tuning slide is drawn by some 1 to 2 cm in tune and by some 6 in all: no more than this is left to either side (proposed default).
    private const double MostSlide = 4.5;

    /// <summary>One sentence for the summary; empty for a pass in tune.</summary>
    public static string Overall(OwnTuning? own, double? median) => (own, median) switch
    {
        ({ } o, _) => $" The whole lies {Math.Abs(o.Cents.Value):0} cents ({Range(o)}) {(o.Cents.Value > 0 ? "above" : "below")} the plan's pitch, and its notes are judged against its own.",
        (null, null) => "",
        (null, { } m) when Math.Abs(m) < 3 => " The whole is in tune with the plan's A.",
        (null, { } m) => $" The whole lies {Math.Abs(m):0} cents {(m > 0 ? "above" : "below")} the plan's pitch.",
    };

    /// <summary>What to do about it; null where nobody hears that it is off.</summary>
    public static string? Work(OwnTuning? own, Instrument instrument, VerdictSettings limits)
    {
        if (own is not { } o || Least(o) <= limits.InTune.Value) return null;
        var sharp = o.Cents.Value > 0;
        var off = $"The whole take is {Math.Abs(o.Cents.Value):0} cents {(sharp ? "sharp" : "flat")}";
        const string Own = "Each note below is told against the take's own pitch.";
        if (Reachable(o.Cents, instrument) is null)
            return $"{off}, further than a tuning slide reaches: see whether every note was played with the slide too far {(sharp ? "in" : "out")}, or the instrument is tuned to another A4 than the plan, or the recording runs too {(sharp ? "fast" : "slow")}. {Own}";
        return $"{off}: tune first, the tuning slide about {Math.Abs(Slide(o.Cents, instrument).Millimetres):0} mm further {(sharp ? "out" : "in")}{(sharp ? "" : " once the instrument is warm")}. {Own}";
    }

    /// <summary>How far the tuning slide must move: it counts twice and lengthens the whole open horn. Positive out.</summary>
    public static Centimetres Slide(Cents off, Instrument instrument) => Tube.TravelFor(instrument.Open.EffectiveLength, off.Value / 100);

    /// <summary>The same; null where no tuning slide goes so far.</summary>
    public static Centimetres? Reachable(Cents off, Instrument instrument) => Slide(off, instrument) is var way && Math.Abs(way.Value) <= MostSlide ? way : null;

    private static double Least(OwnTuning o) => Math.Min(Math.Abs(o.Bounds.Low.Value), Math.Abs(o.Bounds.High.Value));

    private static string Range(OwnTuning o) => $"{Least(o):0} to {Math.Max(Math.Abs(o.Bounds.Low.Value), Math.Abs(o.Bounds.High.Value)):0}";
}
