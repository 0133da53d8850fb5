using Seamwright.Core.Planning;

namespace Seamwright.Studio.Features.Piece;

/// <summary>Changes in words.</summary>
internal static class ChangeWords
{
    public static string Of(ChangeKind kind) => kind switch
    {
        ChangeKind.NaturalSlur => "natural slur",
        ChangeKind.ValveSlur => "valve slur",
        ChangeKind.SoftTongue => "soft tongue",
        ChangeKind.Tongued => "tongued",
        ChangeKind.Breath => "breath",
        _ => "the slide is heard",
    };

    /// <summary><c>B♭3 to C4</c>.</summary>
    public static string Pair(Plan plan, NoteChange change) => $"{plan.Notes[change.FromNote].Note.Pitch.ToDisplay()} to {plan.Notes[change.ToNote].Note.Pitch.ToDisplay()}";

    /// <summary><c>B♭3 to C4, bar 3 (2nd time)</c>.</summary>
    public static string Place(Plan plan, NoteChange change) => $"{Pair(plan, change)}, bar {Bar(plan, change)}";

    /// <summary>For a reader who cannot see it.</summary>
    public static string Label(Plan plan, NoteChange change) => $"Bar {Bar(plan, change)}, {Pair(plan, change)}: {Of(change.Kind)}";

    private static string Bar(Plan plan, NoteChange change)
    {
        var note = plan.Notes[change.ToNote].Note;
        return note.Bar + (note.Pass switch { 1 => "", 2 => " (2nd time)", 3 => " (3rd time)", var n => $" ({n}th time)" });
    }
}
