using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One note's pitch against the pitch asked for, as millimetres of slide.</summary>
internal static class NoteJudge
{
    public static NoteJudgement Judge(HeardNote note, Plan plan, VerdictSettings limits)
    {
        if (!note.Found) return Silent(note, $"{note.Pitch.ToDisplay()} was not found in the recording.");
        if (note.Cents is not { } cents) return Silent(note, $"{note.Pitch.ToDisplay()} is too short to measure its pitch.");
        var intonation = IntonationOf(cents, limits);
        var correction = Correction(cents, plan.Notes[note.Index].Setting);
        var off = intonation == Intonation.Out;
        var basis = $"{cents.Value:+0;-0;0} cents; out of tune beyond {limits.OutOfTune.Value:0}";
        return new NoteJudgement
        {
            Index = note.Index,
            Findings = [new Finding(off ? Verdict.OutOfTune : Verdict.Clean, basis)],
            Intonation = intonation,
            SlideCorrection = correction,
            Advice = intonation == Intonation.Good ? "In tune." : Advice(note.Pitch, cents, correction, plan.Notes[note.Index].Setting),
        };
    }

    private static NoteJudgement Silent(HeardNote note, string why) => new()
    {
        Index = note.Index,
        Findings = [new Finding(Verdict.CannotTell, why)],
        Advice = why,
    };

    private static Intonation IntonationOf(Cents cents, VerdictSettings limits) => Math.Abs(cents.Value) switch
    {
        var c when c <= limits.InTune.Value => Intonation.Good,
        var c when c <= limits.OutOfTune.Value => Intonation.Watch,
        _ => Intonation.Out,
    };

    // A sharp note wants the slide further out; sensitivity at the setting that was planned.
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
