using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>Why a recording of the right exercises says nothing of the instrument.</summary>
internal static class Unfit
{
    /// <summary>The whole lies semitones away: another tuning, another instrument or another position, and pitch cannot say which.</summary>
    public static Problem Shifted(int semitones, Instrument instrument)
    {
        var far = (Math.Abs(semitones), semitones > 0) switch
        {
            (1, true) => "a semitone above",
            (1, false) => "a semitone below",
            (var k, true) => $"{k} semitones above",
            (var k, false) => $"{k} semitones below",
        };
        var tuning = (instrument.A4 + new Cents(100 * semitones)).Value;
        return new(
            "the recording",
            $"the lip slurs lie {far} first position on {instrument.Name} at A4 = {instrument.A4.Value:0.#} Hz.",
            $"If the slide was out, record them with the slide closed. If it was closed, the horn stands at about A4 = {tuning:0} Hz or is another one: name the instrument, or an instrument file with that a4.",
            Severity.Error);
    }

    /// <summary>Notes that lie too far apart to stand for one horn.</summary>
    public static Problem? Wild(Fit fit, CalibrationSettings settings)
    {
        var spread = Spread(fit.Kinds);
        return spread <= settings.LargestSpread.Value ? null : new(
            "the recording",
            $"notes of one kind lie {spread:0} cents (root mean square) from their middle, more than the {settings.LargestSpread.Value:0} from which a tuning can be told.",
            "Record the exercises again, slowly, each note held until it stands; a drone helps in the scale.",
            Severity.Error);
    }

    // Not the median's spread, which small groups flatter; a single note that is quite wrong counts no more than half a semitone and a bit.
    private static double Spread(IEnumerable<IReadOnlyList<double>> kinds)
    {
        const double Most = 60;
        var squares = kinds.Where(k => k.Count > 1)
            .SelectMany(k => k.Select(v => Math.Pow(Math.Min(Most, Math.Abs(v - Robust.Median(k)) * Math.Sqrt(k.Count / (k.Count - 1.0))), 2))).ToList();
        return squares.Count == 0 ? 0 : Math.Sqrt(squares.Average());
    }
}
