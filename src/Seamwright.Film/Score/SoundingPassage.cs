using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Film.Score;

/// <summary>A stretch of a film's sound in which notes of a plan are played: the whole tune once, or one round of a phrase.</summary>
/// <param name="Plan">Whose notes.</param>
/// <param name="Offset">Film time of the plan's time 0; negative where a later phrase is played at the film's beginning.</param>
/// <param name="TempoRatio">1.1 is ten per cent faster than the plan; more than 0.</param>
public sealed record SoundingPassage(Plan Plan, Seconds Offset, double TempoRatio = 1)
{
    /// <summary>First note that is played, from 0.</summary>
    public int FirstNote { get; init; }

    /// <summary>Last note that is played; by default the plan's last.</summary>
    public int LastNote { get; init; } = Plan.Notes.Length - 1;

    /// <summary>The notes that are played, in order.</summary>
    public ImmutableArray<PlannedNote> Notes => [.. Plan.Notes.Skip(FirstNote).Take(LastNote - FirstNote + 1)];

    /// <summary>When the last note ends, in film time.</summary>
    public Seconds End => LastNote < FirstNote ? Offset : At(Plan.Notes[LastNote].Note.EndTime);

    /// <summary>Film time of a time of the plan.</summary>
    public Seconds At(Seconds planned) => Offset + ((1 / TempoRatio) * planned);
}
