using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why an exercise was chosen, in a pupil's words.</summary>
internal static class ReasonWords
{
    private const int Named = 4;

    /// <summary>One sentence with bars and figures, and one on what the exercise is for.</summary>
    /// <param name="fault">Which.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="isLadder">Whether the exercise is the change itself, out of the tune.</param>
    /// <param name="overPartials">Whether it is slurs over the partials.</param>
    public static string Of(FaultGroup fault, Plan plan, bool isLadder = false, bool overPartials = false)
    {
        var untongued = fault.Changes.Length > 0 && fault.Changes.All(c => plan.Changes[c].Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur);
        var notes = fault.Notes.IsEmpty ? [.. fault.Changes.Select(c => plan.Changes[c].ToNote)] : fault.Notes;
        var where = PlaceWords.Bars(plan, notes.Order(), Named);
        var worst = plan.Notes[notes[0]].Note;
        var pair = fault.Changes.IsEmpty ? worst.Pitch.ToDisplay() : $"{plan.Notes[plan.Changes[fault.Changes[0]].FromNote].Note.Pitch.ToDisplay()} to {worst.Pitch.ToDisplay()}";
        return $"{What(fault.Kind)} {(notes.Length == 1 ? "once" : $"{notes.Length} times")} ({where}); at its worst in {TakeParts.BarOf(plan, worst)}, {pair}: {fault.Basis}. {(isLadder ? LadderAim(fault.Kind, untongued) : Aim(fault.Kind, overPartials))}";
    }

    /// <summary>Above the exercises.</summary>
    public static string Summary(int count) => count switch
    {
        0 => "There is something to mend in this take, and no exercise here fits it.",
        1 => "One thing stood out in this take; this exercise is for it.",
        _ => $"{(count == 2 ? "Two" : "Three")} things stood out in this take; work on the first until it is better, then on the next.",
    };

    /// <summary>For messages.</summary>
    public static string Name(FaultKind kind) => kind switch
    {
        FaultKind.Air => "air that stops",
        FaultKind.Partial => "slurs that crack",
        FaultKind.Smear => "smears",
        FaultKind.Timing => "tongue and slide apart",
        FaultKind.HardTongue => "a hard tongue",
        FaultKind.MissingTouch => "missing touches",
        FaultKind.HurriedSlide => "slow slides that are too short",
        _ => "notes out of tune",
    };

    private static string What(FaultKind kind) => kind switch
    {
        FaultKind.Air => "The air did not go on evenly",
        FaultKind.Partial => "The note did not change as it should",
        FaultKind.Smear => "The slide was heard",
        FaultKind.Timing => "Tongue and slide were not together",
        FaultKind.HardTongue => "The tongue was too hard, or not wanted,",
        FaultKind.MissingTouch => "A touch was missing",
        FaultKind.HurriedSlide => "A slow slide was too short",
        _ => "A note was out of tune",
    };

    private static string Aim(FaultKind kind, bool overPartials) => kind switch
    {
        FaultKind.Air when overPartials => "Over the partials the note changes by itself as long as the air goes on: keep blowing and leave the tongue out.",
        FaultKind.Air => "A slow slide through this scale only works while the air goes on.",
        FaultKind.Partial => "Slurs over the partials teach the lips to find the note by themselves.",
        FaultKind.Smear => "These moves, slowly and then faster, teach the arm to wait and the tongue to hide the way.",
        FaultKind.Timing => "First the slide alone, so that you hear when it moves; then the tongue in the middle of it.",
        FaultKind.HardTongue => "On one note nothing else is hard: only imagine the tongue, then touch as lightly as you imagined it.",
        FaultKind.MissingTouch => "Add the touch to something you already do well.",
        FaultKind.HurriedSlide => "Take all the time there is, and hear the whole way.",
        _ => "Hold it long, listen, and let the slide find the middle of the note.",
    };

    private static string LadderAim(FaultKind kind, bool untongued) => kind switch
    {
        FaultKind.HardTongue when untongued => "Leave the tongue out: this change comes by itself.",
        FaultKind.Air => "Let the air go through this change as if it were one note.",
        FaultKind.Partial => "Hear the second note before you play it, and let the lips find it.",
        FaultKind.Smear => "Let the arm wait and then go at once, under the tongue.",
        FaultKind.Timing => "Let the tongue touch in the middle of the move.",
        FaultKind.HardTongue => "Touch as lightly as you can on the way.",
        _ => "Do not leave out the touch on the way.",
    };
}
