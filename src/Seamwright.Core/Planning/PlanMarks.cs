using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Core.Planning;

/// <summary>A plan's marks for MusicXML.</summary>
public static class PlanMarks
{
    /// <summary>Position, kind of change and syllable by note id; first passes only and at the arriving note, as on the printed sheet.</summary>
    /// <param name="plan">Any.</param>
    /// <param name="syllable">Of the soft tongue.</param>
    public static IReadOnlyDictionary<string, NoteMark> Of(Plan plan, string syllable)
    {
        var marks = new Dictionary<string, NoteMark>();
        foreach (var planned in plan.Notes)
        {
            var change = planned.Note.Index > 0 ? plan.Changes[planned.Note.Index - 1] : null;
            var mark = new NoteMark(
                planned.Setting?.Label ?? "",
                change is null || change.Kind is ChangeKind.Tongued or ChangeKind.Breath or ChangeKind.SoftTongue ? "" : change.Kind.WireName(),
                change?.Kind == ChangeKind.SoftTongue ? syllable : "");
            marks.TryAdd(planned.Note.NoteIds[0], mark);
        }

        return marks;
    }
}
