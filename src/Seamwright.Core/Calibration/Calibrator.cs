using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Calibration;

/// <summary>Reads tuning, partial offsets and slide travel from a recording of lip slurs in first position and a slow chromatic scale.</summary>
/// <remarks>In a scale the slide is set by ear, so its notes (first position and valves apart) lie where the player is tuned to. In a lip
/// slur the slide is closed and nothing corrects a partial, so each lies where the horn and the lips put it. The two together tell
/// tuning and offsets apart. Pitch gives ratios of tube lengths and no length.</remarks>
public static class Calibrator
{
    /// <summary>Calibrates from a take of which no sheet is known.</summary>
    /// <param name="heard">Heard on <paramref name="instrument"/>.</param>
    /// <param name="instrument">As it is believed to be.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <returns>The result, or what was missing.</returns>
    public static Outcome<CalibrationResult> Calibrate(FreeTake heard, Instrument instrument, CalibrationSettings? settings = null)
    {
        var s = settings ?? CalibrationSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) return Outcome<CalibrationResult>.Failed(wrong);
        var notes = Usable(heard.Take, heard.Plan, s);
        if (ExerciseFinder.Shift(notes, heard.Plan.Instrument) is { } semitones) return Outcome<CalibrationResult>.Failed([Unfit.Shifted(semitones, instrument)]);
        var found = ExerciseFinder.Unguided(notes, heard.Plan.Instrument);
        return Calibrate(found, heard.Take, heard.Plan, instrument, s);
    }

    /// <summary>Calibrates from a take of an exercise sheet.</summary>
    /// <param name="take">What was heard.</param>
    /// <param name="plan">What was asked, for the instrument as it is believed to be.</param>
    /// <param name="settings">Null for the defaults.</param>
    /// <returns>The result, or what was missing.</returns>
    public static Outcome<CalibrationResult> Calibrate(Take take, Plan plan, CalibrationSettings? settings = null)
    {
        var s = settings ?? CalibrationSettings.Default;
        if (s.Validate() is { IsEmpty: false } wrong) return Outcome<CalibrationResult>.Failed(wrong);
        if (take.Attempts.Select(a => a.Transposition).Distinct().ToList() is [not 0 and var semitones]) return Outcome<CalibrationResult>.Failed([Unfit.Shifted(semitones, plan.Instrument)]);
        return Calibrate(ExerciseFinder.Guided(Usable(take, plan, s), plan), take, plan, plan.Instrument, s);
    }

    private static List<CalibrationNote> Usable(Take take, Plan plan, CalibrationSettings s) =>
        [.. CalibrationNote.Of(take, plan).Where(n => n.Length >= s.ShortestNote)];

    private static Outcome<CalibrationResult> Calibrate(List<Recognised> found, Take take, Plan plan, Instrument instrument, CalibrationSettings s)
    {
        var heard = take.Notes.Count(n => n.Found);
        if (Enough.Missing(found, heard) is { } missing) return Outcome<CalibrationResult>.Failed([missing]);
        var fit = new Fit(found, instrument, s);
        if (Unfit.Wild(fit, s) is { } wild) return Outcome<CalibrationResult>.Failed([wild]);
        return Outcome<CalibrationResult>.Of(new CalibrationResult
        {
            Before = instrument,
            After = fit.After,
            Tuning = fit.Tuning,
            Partials = fit.Partials,
            Positions = fit.Positions,
            Notes = fit.Notes,
            NotesLeftOut = heard - found.Count,
            LongestSlide = LongestSlide(take, plan),
            Unknown = [.. Unknowns.Of(fit, s)],
        });
    }

    private static double? LongestSlide(Take take, Plan plan)
    {
        var slides = take.Changes.Where(c => plan.Changes[c.Index].Kind == ChangeKind.Glissando && c is { Found: true, GlideSemitones: not null, Break: null })
            .Select(c => Math.Abs(c.GlideSemitones!.Value)).ToList();
        return slides.Count == 0 ? null : slides.Max();
    }
}

/// <summary>Whether enough was heard.</summary>
internal static class Enough
{
    public const int FewestPartials = 3;
    public const int FewestSlurred = 8;
    public const int FewestScale = 6;
    private const double LeastShare = 0.5;

    public static bool Slurs(IReadOnlyCollection<Recognised> found) =>
        found.Where(f => f.Kind == ExerciseKind.LipSlur).GroupBy(f => f.Partial).Count(g => g.Count() >= 2) >= FewestPartials
        && found.Count(f => f.Kind == ExerciseKind.LipSlur) >= FewestSlurred;

    public static bool Scale(IReadOnlyCollection<Recognised> found) => found.Count(IsFree) >= FewestScale;

    /// <summary>A note whose slide was set by ear.</summary>
    public static bool IsFree(Recognised f) => f is { Kind: ExerciseKind.Scale, Semitone: > 0 };

    public static Problem? Missing(List<Recognised> found, int heard)
    {
        const string Play = "Record lip slurs in first position over at least three partials, each note twice or more (for instance B♭2 F3 B♭3 D4 F4 and back), then a slow chromatic scale over an octave; hold every note for half a second.";
        if (heard == 0) return new("the recording", "no notes are heard in it.", Play, Severity.Error);
        if (found.Count < LeastShare * heard || (!Slurs(found) && !Scale(found)))
            return new("the recording", $"of {heard} notes heard, {found.Count(f => f.Kind == ExerciseKind.LipSlur)} belong to lip slurs in first position and {found.Count(f => f.Kind == ExerciseKind.Scale)} to a chromatic scale: too little to calibrate from.", Play, Severity.Error);
        return null;
    }
}
