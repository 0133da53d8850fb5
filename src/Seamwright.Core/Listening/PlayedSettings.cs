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
        var shown = changes.Select(c => (c.Index, Broke: Shown(c, plan))).Where(c => c.Broke is not null).ToDictionary(c => c.Index, c => c.Broke!.Value);
        foreach (var change in changes)
        {
            if (ByChange(plan, plan.Changes[change.Index], shown) is var (note, setting)) guessed[note] = guessed[note] with { PlayedSetting = setting };
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
    private static double? LeastJump(Plan plan, SlideSetting from, SlideSetting to)
    {
        const int Places = 20;
        if (from.Side.Id == to.Side.Id && from.Partial == to.Partial) return null;
        return Enumerable.Range(0, Places + 1).Min(k =>
        {
            var travel = new Centimetres(from.Travel.Value + (k / (double)Places * (to.Travel.Value - from.Travel.Value)));
            return Math.Abs(plan.Instrument.Sounding(to.Side, to.Partial, travel).Above(plan.Instrument.Sounding(from.Side, from.Partial, travel)).Value);
        });
    }

    private static double? LeastJump(Plan plan, NoteChange change) =>
        plan.Notes[change.FromNote].Setting is { } from && plan.Notes[change.ToNote].Setting is { } to ? LeastJump(plan, from, to) : null;

    // It slid where a break was planned, or broke where a slide was: one of the two notes was taken otherwise. Which one, and where, is named only
    // where one setting alone bears out this change and the one on the note's other side.
    private static (int Note, SlideSetting Setting)? ByChange(Plan plan, NoteChange change, Dictionary<int, bool> shown)
    {
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to || from.Semitone == to.Semitone) return null;
        if (!shown.TryGetValue(change.Index, out var broke) || IsAsShown(plan, from, to, broke)) return null;
        var all = new[] { change.FromNote, change.ToNote }.SelectMany(n => plan.Notes[n].Alternatives.Select(a => (Note: n, a.Setting)).Where(a => BearsOut(plan, a.Note, a.Setting, shown))).Take(2).ToList();
        return all.Count == 1 ? all[0] : null;
    }

    private static bool BearsOut(Plan plan, int note, SlideSetting setting, Dictionary<int, bool> shown) =>
        plan.Changes.Where(c => (c.FromNote == note || c.ToNote == note) && shown.ContainsKey(c.Index)).All(c =>
            plan.Notes[c.FromNote == note ? c.ToNote : c.FromNote].Setting is not { } other
            || (c.FromNote == note ? IsAsShown(plan, setting, other, shown[c.Index]) : IsAsShown(plan, other, setting, shown[c.Index])));

    private static bool IsAsShown(Plan plan, SlideSetting from, SlideSetting to, bool broke) => LeastJump(plan, from, to) is { } jump ? broke || jump <= Audible : !broke;

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
