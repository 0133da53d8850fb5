using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>Guesses which setting was probably played where the planned one does not fit what was heard.</summary>
internal static class PlayedSettings
{
    // A note so far off asks for a reason; another setting, taken at its plain position, must explain it so well.
    private const double WorthExplaining = 20;
    private const double Explains = 8;

    // Cents: a jump within this may be the slide's own way, read through the window of two periods.
    private const double Audible = 100;

    public static ImmutableArray<HeardNote> Guess(Plan plan, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes)
    {
        var guessed = notes.ToBuilder();
        var own = OwnTuning.Of(notes);
        foreach (var change in changes)
        {
            var planned = plan.Changes[change.Index];
            if (Shown(change, plan) is { } broke && BySlide(plan, planned, broke) is { } setting) guessed[planned.ToNote] = guessed[planned.ToNote] with { PlayedSetting = setting };
        }

        for (var i = 0; i < guessed.Count; i++)
        {
            if (guessed[i].PlayedSetting is null && ByPitch(plan, guessed[i], own) is { } setting) guessed[i] = guessed[i] with { PlayedSetting = setting };
        }

        return guessed.ToImmutable();
    }

    /// <summary>Whether the pitch itself shows a break (true) or a slide (false); null where it does neither.</summary>
    /// <remarks>A moment without period is none: noise, an echo and stopped air have no period either. A slide must be longer than any
    /// break even at the lower end of its interval, which noise and room have widened, have no jump in it, and tells nothing where the plan's own
    /// break may be so small that it cannot be told from a slide.</remarks>
    public static bool? Shown(HeardChange change, Plan plan) => change switch
    {
        _ when change.Doubts.Contains(Doubt.Echo) || change.Doubts.Contains(Doubt.OtherSound) => null, // two pitches at once
        { Found: true, Broke: true, Break: not null } => true,
        { Found: true, Broke: false, Break: null, GlideBounds: { } b } when b.Low.Value > GlideMeter.LongForABreak && LeastJump(plan, plan.Changes[change.Index]) is null or > Audible => false,
        _ => null,
    };

    // Cents by which the planned settings lie apart where they come nearest on the slide's way: the player chooses where the one gives way to the
    // other. A valve let go over a moving slide may be there. Null where they do not break.
    private static double? LeastJump(Plan plan, NoteChange change)
    {
        const int Places = 20;
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to) return null;
        if (from.Side.Id == to.Side.Id && from.Partial == to.Partial) return null;
        return Enumerable.Range(0, Places + 1).Min(k =>
        {
            var travel = new Centimetres(from.Travel.Value + (k / (double)Places * (to.Travel.Value - from.Travel.Value)));
            return Math.Abs((plan.Instrument.Sounding(to.Side, to.Partial, travel).Above(plan.Instrument.Sounding(from.Side, from.Partial, travel))).Value);
        });
    }

    // It slid where a break was planned, or broke where a slide was: the second note was taken on another partial.
    private static SlideSetting? BySlide(Plan plan, NoteChange change, bool broke)
    {
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to) return null;
        var breaks = from.Side.Id != to.Side.Id || from.Partial != to.Partial;
        if (breaks == broke || from.Semitone == to.Semitone) return null;
        return plan.Notes[change.ToNote].Alternatives.Select(a => a.Setting)
            .FirstOrDefault(s => s.Side.Id == from.Side.Id && s.Partial == from.Partial != broke);
    }

    // The whole interval must be off, and be explained.
    private static SlideSetting? ByPitch(Plan plan, HeardNote note, OwnTuning? own)
    {
        if (note.Cents is null || note.CentsBounds is null) return null;
        var (cents, bounds) = own?.Off(note) ?? (note.Cents.Value, note.CentsBounds);
        var (low, high) = (bounds!.Value.Low.Value, bounds.Value.High.Value);
        if (low < WorthExplaining && high > -WorthExplaining) return null;
        return plan.Notes[note.Index].Alternatives.Select(a => a.Setting)
            .Where(s => Math.Abs(s.Correction.Value) >= WorthExplaining && high - Uncorrected(s) < Explains && Uncorrected(s) - low < Explains)
            .MinBy(s => Math.Abs(cents.Value - Uncorrected(s)));
    }

    // A partial that is sharp at its plain position sounds so where nobody corrects it.
    private static double Uncorrected(SlideSetting setting) => -setting.Correction.Value;
}
