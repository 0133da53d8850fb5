using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One note's pitch against the pitch asked for, as millimetres of slide.</summary>
internal static class NoteJudge
{
    private static readonly OpenReason NotFound = OpenReason.Own("the note was not found in the recording");
    private static readonly OpenReason TooShort = OpenReason.Own("the note is too short to measure its pitch");

    /// <summary>Judges a note.</summary>
    /// <param name="note">As heard.</param>
    /// <param name="plan">As asked.</param>
    /// <param name="limits">To compare with.</param>
    /// <param name="asWritten">Whether it was played where it is written; transposed, the planned settings say nothing.</param>
    /// <param name="own">The pass's own tuning, which the note is judged against; null for the plan's.</param>
    /// <param name="touches">Dips in it where the tongue was only to be imagined.</param>
    public static NoteJudgement Judge(HeardNote note, Plan plan, VerdictSettings limits, bool asWritten, OwnTuning? own, IReadOnlyList<LiveTouch> touches)
    {
        if (note.IsDamaged) return Silent(note, OpenReason.Damage, $"The file is damaged here, so nothing is said of {note.Pitch.ToDisplay()}.", []);
        if (note is { Found: false, Instead: { } other })
        {
            var said = $"{other.ToDisplay()} was heard in place of {note.Pitch.ToDisplay()}";
            return Silent(note, NotFound, $"{said}.", []) with { Findings = [new Finding(Verdict.WrongNote, said)] };
        }

        if (!note.Found) return Silent(note, NotFound, $"{note.Pitch.ToDisplay()} was not found in the recording.", []);
        var planned = plan.Line.FromRecording ? null : plan.Notes[note.Index].Setting;
        string[] remarks = [.. Remarks(note, planned, limits, IsSlidThrough(note, plan)), .. ImaginedTone.Remarks(touches)];
        if (note.Cents is not { } heard || !double.IsFinite(heard.Value)) return Silent(note, TooShort, $"{note.Pitch.ToDisplay()} is too short to measure its pitch.", remarks);
        var (cents, bounds) = own?.Off(note) ?? (heard, note.CentsBounds);
        var setting = note.PlayedSetting ?? (asWritten ? planned : null);
        var correction = Correction(cents, setting);
        var possible = correction is not { } c || IsPossible(c, setting!, plan.Instrument);
        var finding = FindingOf(cents, Readings.Cents(cents, bounds), limits, own);
        Intonation? intonation = finding.Verdict == Verdict.CannotTell ? null : IntonationOf(cents, finding.Verdict, limits);
        return new NoteJudgement
        {
            Index = note.Index,
            Findings = [finding, .. Imagined(note, plan, limits), .. ImaginedTone.Findings(touches)],
            Intonation = intonation,
            Cents = cents,
            CentsBounds = bounds,
            SlideCorrection = possible ? correction : null,
            BeyondSlide = !possible,
            Advice = intonation switch
            {
                Intonation.Good => "In tune.",
                null => $"This recording does not settle whether it is in tune: {finding.Basis}.",
                _ => Advice(note.Pitch, cents, setting, plan.Instrument),
            },
            Remarks = [.. remarks],
        };
    }

    private static Finding FindingOf(Cents cents, Reading reading, VerdictSettings limits, OwnTuning? own)
    {
        var doubt = reading.HasInterval ? $" ({reading.Range(1, "cents", "0")} off)" : "";
        var against = own is null ? "" : " against the take's own pitch";
        var basis = $"{cents.Value:+0;−0;0} cents{doubt}{against}; out of tune beyond {limits.OutOfTune.Value:0}";
        return reading.Against(limits.OutOfTune.Value) switch
        {
            Standing.Beyond => new(Verdict.OutOfTune, basis),
            Standing.Within => new(Verdict.Clean, basis),
            _ => Finding.Open("", OpenReason.Own($"{reading.Range(1, "cents", "0")} off{against}, out of tune beyond {limits.OutOfTune.Value:0}")),
        };
    }

    // A tone held while the tongue is only imagined is asked to stay where it is.
    private static IEnumerable<Finding> Imagined(HeardNote note, Plan plan, VerdictSettings limits)
    {
        if (plan.Notes[note.Index].Note.Asked != Scores.ChangeIntent.ImaginedTongue || note.Drift is not { } drift || Math.Abs(drift.Value) <= limits.SteadyPitch.Value) yield break;
        yield return new(Verdict.Unsteady, $"the pitch drifts by {Math.Abs(drift.Value):0} cents; limit {limits.SteadyPitch.Value:0} cents");
    }

    // A slide that takes all the time of a note takes its pitch along.
    private static bool IsSlidThrough(HeardNote note, Plan plan) =>
        plan.Changes.Skip(note.Index - 1).Take(note.Index == 0 ? 1 : 2).Any(c => c.Kind == ChangeKind.Glissando || c.Intent == Scores.ChangeIntent.SlowSlide);

    private static IEnumerable<string> Remarks(HeardNote note, SlideSetting? planned, VerdictSettings limits, bool slidThrough)
    {
        if (note.PlayedSetting is { } played)
            yield return planned is null ? $"It sounds like {ArmWords.Name(played)}." : $"It sounds like {ArmWords.Name(played)}, not {ArmWords.Name(planned)}.";
        if (!slidThrough && note.Drift is { } drift && Readings.Drift(note) is { } moved && moved.Against(limits.SteadyPitch.Value) == Standing.Beyond)
            yield return $"It drifts {moved.Figure(1, "cents", "0")} {(drift.Value > 0 ? "up" : "down")} while it is held.";
        if (note.Vibrato is { } vibrato)
            yield return VibratoWords.Of(vibrato);
    }

    private static NoteJudgement Silent(HeardNote note, OpenReason why, string advice, string[] remarks) => new()
    {
        Index = note.Index,
        Findings = [Finding.Open("", why)],
        Advice = advice,
        Remarks = [.. remarks],
    };

    private static Intonation IntonationOf(Cents cents, Verdict verdict, VerdictSettings limits) => verdict == Verdict.OutOfTune
        ? Intonation.Out
        : Math.Abs(cents.Value) <= limits.InTune.Value ? Intonation.Good : Intonation.Watch;

    // A sharp note wants the slide further out; sensitivity at the setting that was played.
    private static Centimetres? Correction(Cents cents, SlideSetting? setting) => setting is null
        ? null
        : new(cents.Value / Tube.CentsPerMillimetre(setting.Side.EffectiveLength, setting.Travel) / 10);

    // A slide neither goes further in than closed nor off its end.
    private static bool IsPossible(Centimetres correction, SlideSetting setting, Instrument instrument) =>
        setting.Travel.Value + correction.Value is var to && to >= 0 && to <= instrument.FurthestTravel.Value;

    private static string Advice(Pitch pitch, Cents cents, SlideSetting? setting, Instrument instrument)
    {
        var what = $"{pitch.ToDisplay()} is {Math.Abs(cents.Value):0} cents {(cents.Value > 0 ? "sharp" : "flat")}";
        if (Correction(cents, setting) is not { } c) return what + ".";
        var way = c.Value > 0 ? "out" : "in";
        return IsPossible(c, setting!, instrument)
            ? $"{what}: move the slide {Math.Abs(c.Millimetres):0} mm {way}."
            : $"{what}: the slide cannot go further {way}, so {(c.Value > 0 ? "bring it down" : "lift it")} with the lips or choose another setting.";
    }
}
