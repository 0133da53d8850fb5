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

    /// <summary>Notes that lie too far apart to stand for one horn: more than half of them are far from the others of their kind.</summary>
    public static Problem? Wild(Fit fit, CalibrationSettings settings)
    {
        var far = fit.Notes.Count(n => n.IsOutlier);
        return 2 * far <= fit.Notes.Length ? null : new(
            "the recording",
            $"{far} of {fit.Notes.Length} notes lie more than {settings.Outlier.Value:0} cents from the others of their kind: they stand for no tuning.",
            "Record the exercises again, slowly, each note held until it stands; a drone helps in the scale.",
            Severity.Error);
    }
}
