using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>Where the tongue touched against the arm, where that is worth printing.</summary>
/// <param name="Offset">+ is late.</param>
/// <param name="Bounds">Its 90 % interval; null where it is not known.</param>
internal readonly record struct TongueFigure(Seconds Offset, Bounds<Seconds>? Bounds)
{
    /// <summary>The figure of a change; null where no tongue was asked for and none is told, and where offset or interval is longer than the shorter
    /// of the two notes: that is no moment.</summary>
    /// <param name="heard">The change.</param>
    /// <param name="change">As asked.</param>
    /// <param name="plan">Where it stands.</param>
    /// <param name="from">The first note as heard.</param>
    /// <param name="to">The second note as heard.</param>
    /// <param name="verdicts">Of the change.</param>
    public static TongueFigure? Of(HeardChange heard, NoteChange change, Plan plan, HeardNote from, HeardNote to, IReadOnlyCollection<Verdict> verdicts)
    {
        if (heard.TongueOffset is not { } offset) return null;
        if (verdicts.Any(v => v is Verdict.TongueEarly or Verdict.TongueLate or Verdict.TongueHeard)) return new(offset, heard.TongueOffsetBounds);
        if (!IsAsked(plan, change)) return null;
        var longest = Math.Min(Length(from, plan), Length(to, plan));
        var width = heard.TongueOffsetBounds is { } b ? b.High.Value - b.Low.Value : 0;
        return Math.Abs(offset.Value) <= longest && width <= longest ? new(offset, heard.TongueOffsetBounds) : null;
    }

    /// <summary>As the other, of a judged take.</summary>
    public static TongueFigure? Of(Take take, Diagnosis diagnosis, Plan plan, NoteChange change) =>
        Of(take.Changes[change.Index], change, plan, take.Notes[change.FromNote], take.Notes[change.ToNote], diagnosis.Changes[change.Index].Verdicts);

    /// <summary>Whether a touch of the tongue was asked for; where nobody knows what was asked it may have been.</summary>
    public static bool IsAsked(Plan plan, NoteChange change) => plan.Line.FromRecording || change.Intent switch
    {
        null => change.Kind is ChangeKind.SoftTongue or ChangeKind.Tongued,
        ChangeIntent.SoftTongue or ChangeIntent.TouchedTone => true,
        _ => false,
    };

    private static double Length(HeardNote note, Plan plan) => note is { Onset: { } on, Offset: { } off } ? off.Value - on.Value : plan.Notes[note.Index].Note.Duration.Value;
}
