using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Film.Score;

namespace Seamwright.Film;

/// <summary>What is heard, and which notes of the plan are played when in it.</summary>
/// <param name="Recording">The whole sound; it decides how long the film is.</param>
/// <param name="Passages">In time, not overlapping; film time 0 is the first sample.</param>
public sealed record FilmSound(Recording Recording, ImmutableArray<SoundingPassage> Passages)
{
    // Time to look at the first notes and raise the instrument; time to see how it ended.
    private static readonly Seconds LeadIn = new(2), Tail = new(1.5);

    /// <summary>The tune once through, played as planned.</summary>
    public static FilmSound Once(Plan plan)
    {
        var performance = Playing.Clean(plan) with { LeadIn = LeadIn, Tail = Tail };
        var take = Voice.Render(plan, performance);
        return new(new Recording(take.Samples, take.Rate), [new(plan, LeadIn)]);
    }
}
