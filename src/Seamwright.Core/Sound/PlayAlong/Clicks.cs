using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A click of a bar.</summary>
/// <param name="Offset">From the bar line.</param>
/// <param name="Length">To the next click.</param>
/// <param name="Number">1 for the downbeat, in the lower number of the meter.</param>
/// <param name="Strength">How strong.</param>
internal readonly record struct BarClick(Beats Offset, Beats Length, Beats Number, BeatStrength Strength);

/// <summary>The clicks of a bar: its beats and what they are divided into.</summary>
internal static class Clicks
{
    /// <summary>Those within a stretch of a bar; a bar longer than its meter begins the meter again.</summary>
    /// <param name="meter">In force.</param>
    /// <param name="from">From the bar line, included.</param>
    /// <param name="to">From the bar line, not included.</param>
    /// <param name="division">Clicks in a beat, 1 to 4.</param>
    public static IEnumerable<BarClick> In(Meter meter, Beats from, Beats to, int division)
    {
        var pulses = Pulses.Of(meter);
        for (var bar = Beats.Zero; bar < to; bar += meter.BarLength)
        {
            foreach (var pulse in pulses)
            {
                var parts = Parts(pulse, division);
                for (var i = 0; i < parts; i++)
                {
                    var at = bar + pulse.Offset + (pulse.Length / parts * i);
                    var length = pulse.Length / parts;
                    if (at < from || at >= to) continue;
                    if (at + length > to) length = to - at;
                    yield return new BarClick(at, length, at.Times(meter.BeatUnit, 4) + Beats.Quarter, i == 0 ? pulse.Strength : BeatStrength.Subdivision);
                }
            }
        }
    }

    // A beat made of two or three of the meter's units falls into those; only four clicks and more divide the units too.
    private static int Parts(Pulse pulse, int division) =>
        division == 1 || pulse.Units == 1 ? division : division == 4 ? pulse.Units * 2 : pulse.Units;
}
