using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One note's pitch against the pitch asked for, as millimetres of slide.</summary>
internal static class NoteJudge
{
    /// <summary>Judges a note.</summary>
    /// <param name="note">As heard.</param>
    /// <param name="plan">As asked.</param>
    /// <param name="limits">To compare with.</param>
    /// <param name="asWritten">Whether it was played where it is written; transposed, the planned settings say nothing.</param>
    public static NoteJudgement Judge(HeardNote note, Plan plan, VerdictSettings limits, bool asWritten)
    {
        if (!note.Found) return Silent(note, $"{note.Pitch.ToDisplay()} was not found in the recording.", []);
        var planned = plan.Line.FromRecording ? null : plan.Notes[note.Index].Setting;
        string[] remarks = [.. Remarks(note, planned, limits)];
        if (note.Cents is not { } cents || !double.IsFinite(cents.Value)) return Silent(note, $"{note.Pitch.ToDisplay()} is too short to measure its pitch.", remarks);
        var setting = note.PlayedSetting ?? (asWritten ? planned : null);
        var correction = Correction(cents, setting);
        var reading = Readings.Cents(note, cents);
        var finding = FindingOf(cents, reading, limits);
        Intonation? intonation = finding.Verdict == Verdict.CannotTell ? null : IntonationOf(cents, finding.Verdict, limits);
        return new NoteJudgement
        {
            Index = note.Index,
            Findings = [finding],
            Intonation = intonation,
            SlideCorrection = correction,
            Advice = intonation switch
            {
                Intonation.Good => "In tune.",
                null => $"This recording does not settle whether it is in tune: {finding.Basis}.",
                _ => Advice(note.Pitch, cents, correction, setting),
            },
            Remarks = [.. remarks],
        };
    }

    private static Finding FindingOf(Cents cents, Reading reading, VerdictSettings limits)
    {
        var doubt = reading.HasInterval ? $" (between {reading.Low:0} and {reading.High:0} off)" : "";
        var basis = $"{cents.Value:+0;-0;0} cents{doubt}; out of tune beyond {limits.OutOfTune.Value:0}";
        return reading.Against(limits.OutOfTune.Value) switch
        {
            Standing.Beyond => new(Verdict.OutOfTune, basis),
            Standing.Within => new(Verdict.Clean, basis),
            _ => new(Verdict.CannotTell, $"{reading.Range(1, "cents", "0")} off, out of tune beyond {limits.OutOfTune.Value:0}"),
        };
    }

    private static IEnumerable<string> Remarks(HeardNote note, SlideSetting? planned, VerdictSettings limits)
    {
        if (note.PlayedSetting is { } played)
            yield return planned is null ? $"It sounds like {ArmWords.Name(played)}." : $"It sounds like {ArmWords.Name(played)}, not {ArmWords.Name(planned)}.";
        if (note.Drift is { } drift && Math.Abs(drift.Value) > limits.SteadyPitch.Value)
            yield return $"It drifts {Math.Abs(drift.Value):0} cents {(drift.Value > 0 ? "up" : "down")} while it is held.";
        if (note.Vibrato is { } vibrato)
            yield return $"It has a vibrato of {vibrato.Rate.Value:0.0} swings a second, {vibrato.Extent.Value:0} cents to each side.";
    }

    private static NoteJudgement Silent(HeardNote note, string why, string[] remarks) => new()
    {
        Index = note.Index,
        Findings = [new Finding(Verdict.CannotTell, why)],
        Advice = why,
        Remarks = [.. remarks],
    };

    private static Intonation IntonationOf(Cents cents, Verdict verdict, VerdictSettings limits) => verdict == Verdict.OutOfTune
        ? Intonation.Out
        : Math.Abs(cents.Value) <= limits.InTune.Value ? Intonation.Good : Intonation.Watch;

    // A sharp note wants the slide further out; sensitivity at the setting that was played.
    private static Centimetres? Correction(Cents cents, SlideSetting? setting) => setting is null
        ? null
        : new(cents.Value / Tube.CentsPerMillimetre(setting.Side.EffectiveLength, setting.Travel) / 10);

    private static string Advice(Pitch pitch, Cents cents, Centimetres? correction, SlideSetting? setting)
    {
        var what = $"{pitch.ToDisplay()} is {Math.Abs(cents.Value):0} cents {(cents.Value > 0 ? "sharp" : "flat")}";
        if (correction is not { } c) return what + ".";
        var mm = Math.Abs(c.Millimetres);
        if (c.Value < 0 && setting!.Travel.Millimetres < mm) return $"{what}: the slide cannot go further in, so lift it with the lips or choose another setting.";
        return $"{what}: move the slide {mm:0} mm {(c.Value > 0 ? "out" : "in")}.";
    }
}
