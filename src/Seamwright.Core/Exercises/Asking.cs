using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>What an exercise may ask of a change, from the settings planned for it.</summary>
internal static class Asking
{
    /// <summary>What is asked of the way into a note.</summary>
    /// <param name="plan">Null where nothing could be planned: then what is wished.</param>
    /// <param name="note">Index of the note in the plan, from 1.</param>
    /// <param name="wished">What the exercise is about.</param>
    /// <returns>Where the settings separate by themselves there is nothing to slide or to hide, and a natural slur is asked, unless
    /// the teacher wants the soft tongue on every note; a repeated note needs the tongue in any case.</returns>
    public static ChangeIntent IntentAt(Plan? plan, int note, ChangeIntent wished)
    {
        if (plan is null || plan.Notes[note - 1].Setting is not { } a || plan.Notes[note].Setting is not { } b) return wished;
        var separation = Separations.Between(plan.Instrument, plan.Notes[note - 1].Note.Pitch, a, plan.Notes[note].Note.Pitch, b);
        if (separation == Separation.SamePitch || plan.Notes[note - 1].Note.Pitch.Midi == plan.Notes[note].Note.Pitch.Midi) return ChangeIntent.SoftTongue;
        return separation.WouldSmear() || (wished == ChangeIntent.SoftTongue && plan.Player.Policy == TonguePolicy.EveryNote) ? wished : ChangeIntent.NaturalSlur;
    }

    /// <summary>The written form of the setting of a note; empty where nothing could be planned.</summary>
    public static string SettingAt(Plan? plan, int note) => plan?.Notes[note].Setting is { } s ? SettingPattern.Of(s).ToString() : "";
}
