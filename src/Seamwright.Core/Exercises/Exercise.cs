using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>One finished exercise: music that knows what it asks of every note change, and the words around it.</summary>
public sealed record Exercise
{
    /// <summary>For file names: small letters, digits and <c>-</c>; says kind, key and register.</summary>
    public required string Id { get; init; }

    /// <summary>Name of its <see cref="ExerciseKind"/>.</summary>
    public required string Kind { get; init; }

    public required string Title { get; init; }

    /// <summary>What it is good for, in a sentence or two.</summary>
    public required string Purpose { get; init; }

    /// <summary>How to practise it, step by step, a sentence each.</summary>
    public required ImmutableArray<string> Practice { get; init; }

    /// <summary>Why it was chosen for this pupil, in a sentence; empty where nobody chose.</summary>
    public string Reason { get; init; } = "";

    /// <summary>What puts it above the pupil's own level, in a sentence; empty where nothing does.</summary>
    public string Demand { get; init; } = "";

    /// <summary>One part. Its notes carry what is asked (<see cref="Note.Asked"/>) and the setting (<see cref="Note.Setting"/>), so that
    /// its MusicXML alone is enough to judge a recording by.</summary>
    public required Score Score { get; init; }

    public Part Part => Score.Parts[0];

    /// <summary>At the first tempo.</summary>
    public required Plan Plan { get; init; }

    /// <summary>Quarter notes a minute, slow to fast, at least one; every one is possible for the pupil it was made for.</summary>
    public required ImmutableArray<double> Tempos { get; init; }

    /// <summary>1 to 6: what range and difficulty ask for, see <see cref="Levels"/> and <see cref="ExerciseDifficulty"/>.</summary>
    public required int Level { get; init; }

    /// <summary>0 to 1 at the quickest tempo, see <see cref="ExerciseDifficulty"/>.</summary>
    public required double Difficulty { get; init; }

    /// <summary>Lowest and highest note.</summary>
    public required (Pitch Low, Pitch High) Range { get; init; }

    /// <summary>As printed, for instance <c>B♭ major</c>; empty where it has none.</summary>
    public required string Key { get; init; }

    /// <summary>Its range as its reader calls the notes: two of them, or one where there is no other.</summary>
    public string RangeWords => Range.Low == Range.High ? Naming.Of(Range.Low) : $"{Naming.Of(Range.Low)} to {Naming.Of(Range.High)}";

    /// <summary>Whether it is written a major ninth above its sound.</summary>
    public bool IsBFlatTreble => Part.Bars[0].Clefs.Any(c => c.Clef == Clef.TrebleBb);

    /// <summary>What to do about rest, in a sentence.</summary>
    public required string Rest { get; init; }

    /// <summary>Whether it is a whole piece: its bars then keep their numbers and their changes of tempo on paper.</summary>
    public bool IsPiece { get; init; }

    /// <summary>Estimated minutes with all tempos and as much rest as playing.</summary>
    public required double Minutes { get; init; }

    private NoteNaming Naming => NoteNaming.Under(IsBFlatTreble ? Clef.TrebleBb : null);
}

/// <summary>Exercises that were ordered together, from the easiest up.</summary>
public sealed record ExerciseSet(ImmutableArray<Exercise> Exercises);
