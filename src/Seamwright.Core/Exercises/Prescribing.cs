using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>Writes into music what a plan of it says: the setting of every note and what is asked of every change.</summary>
internal static class Prescribing
{
    /// <summary>A stretch of a planned part as music of its own, in whole bars and in the order of playing.</summary>
    /// <param name="part">The part as it stands on the sheet.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="first">Index of the first played note.</param>
    /// <param name="last">Index of the last one; what else stands in its bars becomes rests.</param>
    /// <param name="asked">What is asked of a change; null where nothing beyond the music.</param>
    public static Part Excerpt(Part part, Plan plan, int first, int last, Func<NoteChange, ChangeIntent?> asked) =>
        new ExcerptWriting(part, plan, first, last, asked).Write();

    /// <summary>All of a planned part.</summary>
    public static Part Whole(Part part, Plan plan, Func<NoteChange, ChangeIntent?> asked) => Excerpt(part, plan, 0, plan.Notes.Length - 1, asked);

    /// <summary>What a plan asks of its changes, said aloud: slurs that separate by themselves, and soft tongues.</summary>
    public static ChangeIntent? AsPlanned(NoteChange change) => change.Kind switch
    {
        ChangeKind.NaturalSlur or ChangeKind.ValveSlur => ChangeIntent.NaturalSlur,
        ChangeKind.SoftTongue => ChangeIntent.SoftTongue,
        _ => change.Intent,
    };
}
