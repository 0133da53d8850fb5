using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>A whole pass that lies sharp or flat, in a reader's words.</summary>
internal static class TuningWords
{
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
        return $"The whole take is {Math.Abs(o.Cents.Value):0} cents {(sharp ? "sharp" : "flat")}: tune first, the tuning slide about {Math.Abs(Slide(o.Cents, instrument).Millimetres):0} mm further {(sharp ? "out" : "in")}{(sharp ? "" : " once the instrument is warm")}. Each note below is told against the take's own pitch.";
    }

    /// <summary>How far the tuning slide must move: it counts twice and lengthens the whole open horn. Positive out.</summary>
    public static Centimetres Slide(Cents off, Instrument instrument) => Tube.TravelFor(instrument.Open.EffectiveLength, off.Value / 100);

    private static double Least(OwnTuning o) => Math.Min(Math.Abs(o.Bounds.Low.Value), Math.Abs(o.Bounds.High.Value));

    private static string Range(OwnTuning o) => $"{Least(o):0} to {Math.Max(Math.Abs(o.Bounds.Low.Value), Math.Abs(o.Bounds.High.Value)):0}";
}
