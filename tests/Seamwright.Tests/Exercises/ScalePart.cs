using Seamwright.Core.Exercises;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>Small parts for tests.</summary>
internal static class ScalePart
{
    /// <summary>Quarter notes in common time.</summary>
    public static Part Of(KeySignature key, IEnumerable<Pitch> notes)
    {
        var pen = new ExerciseWriting(key, Meter.CommonTime);
        foreach (var note in notes) pen.Note(note, Beats.Quarter);
        return pen.Finish();
    }
}
