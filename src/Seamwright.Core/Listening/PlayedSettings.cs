using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Guesses which setting was probably played where the planned one does not fit what was heard.</summary>
internal static class PlayedSettings
{
    // A note so far off asks for a reason; another setting, taken at its plain position, must explain it so well.
    private const double WorthExplaining = 20;
    private const double Explains = 8;

    public static ImmutableArray<HeardNote> Guess(Plan plan, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes)
    {
        var guessed = notes.ToBuilder();
        foreach (var change in changes.Where(c => c.Found && c.Broke is not null))
        {
            var planned = plan.Changes[change.Index];
            if (BySlide(plan, planned, change.Broke!.Value) is { } setting) guessed[planned.ToNote] = guessed[planned.ToNote] with { PlayedSetting = setting };
        }

        for (var i = 0; i < guessed.Count; i++)
        {
            if (guessed[i].PlayedSetting is null && ByPitch(plan, guessed[i]) is { } setting) guessed[i] = guessed[i] with { PlayedSetting = setting };
        }

        return guessed.ToImmutable();
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

    private static SlideSetting? ByPitch(Plan plan, HeardNote note)
    {
        if (note.Cents is not { } cents || Math.Abs(cents.Value) < WorthExplaining) return null;
        return plan.Notes[note.Index].Alternatives.Select(a => a.Setting)
            .Where(s => Math.Abs(s.Correction.Value) >= WorthExplaining && Math.Abs(cents.Value - Uncorrected(s)) < Explains)
            .MinBy(s => Math.Abs(cents.Value - Uncorrected(s)));
    }

    // A partial that is sharp at its plain position sounds so where nobody corrects it.
    private static double Uncorrected(SlideSetting setting) => -setting.Correction.Value;
}
