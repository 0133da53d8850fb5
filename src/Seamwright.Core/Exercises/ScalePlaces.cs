using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The places that the hand has learned in a scale, for music made of its notes.</summary>
/// <remarks>Common practice: figures and sequences are played where the scale is. A planner that looks at a figure alone takes two valves for a step that
/// the scale makes with the slide.</remarks>
internal static class ScalePlaces
{
    /// <summary>The pupil with one setting for each of the notes: that of a scale of them up and down in quarter notes at ♩ = 60.</summary>
    /// <param name="pupil">As scales are played, see <see cref="Manner.InScales"/>.</param>
    /// <param name="key">Of the scale.</param>
    /// <param name="notes">In any order, repeated or not; at least one.</param>
    /// <returns>Null where a note cannot be reached.</returns>
    public static Pupil? Of(Pupil pupil, KeySignature key, IEnumerable<Pitch> notes)
    {
        var up = notes.DistinctBy(n => n.Midi).OrderBy(n => n.Midi).ToList();
        List<Pitch> run = [.. up, .. up.AsEnumerable().Reverse().Skip(1)];
        var bare = LegatoWriting.Bare(key, Meter.CommonTime, [new("", Phrasing.OfRun(run, Beats.Quarter, QuickestTempo.Slow))]);
        if (QuickestTempo.PlanAt(bare, pupil, QuickestTempo.Slow) is not { } plan || plan.Notes.Any(n => n.Setting is null)) return null;
        var others = plan.Notes.DistinctBy(n => n.Note.Pitch.Midi).SelectMany(n => pupil.SettingsFor(n.Note.Pitch).Where(s => !s.Equals(n.Setting))).Select(SettingPattern.Of);
        return pupil with { Settings = pupil.Settings with { Bans = [.. pupil.Settings.Bans, .. others] } };
    }
}
