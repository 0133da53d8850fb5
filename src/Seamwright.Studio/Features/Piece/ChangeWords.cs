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

    /// <summary>For a reader who cannot see it.</summary>
    public static string Label(Plan plan, NoteChange change) => $"Bar {plan.Notes[change.ToNote].Note.Bar}, {Pair(plan, change)}: {Of(change.Kind)}";
}
