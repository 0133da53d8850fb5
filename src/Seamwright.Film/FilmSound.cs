using System.Collections.Immutable;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;
using Seamwright.Film.Score;

namespace Seamwright.Film;

/// <summary>What is heard, and which notes of the plan are played when in it.</summary>
/// <param name="Sound">The whole sound, begun again by whoever reads it.</param>
/// <param name="Duration">Of that sound; it decides how long the film is.</param>
/// <param name="Passages">In time, not overlapping; film time 0 is the first sample.</param>
public sealed record FilmSound(SoundFeed Sound, Seconds Duration, ImmutableArray<SoundingPassage> Passages)
{
    // Time to look at the first notes and raise the instrument; time to see how it ended, the dying away included.
    private static readonly Seconds LeadIn = new(2), Tail = new(0.7);

    /// <summary>Whose turn it is, in time; none where one player plays all through.</summary>
    public ImmutableArray<TurnSign> Signs { get; init; } = [];

    /// <summary>What the film's own label says beside the title; may be empty.</summary>
    public string Remark { get; init; } = "";

    /// <summary>A play-along.</summary>
    /// <param name="schedule">What happens when.</param>
    /// <param name="sound">The sound of it, as long as <see cref="PlayAlongMaker.Sound"/> makes it; null for that itself.</param>
    public static FilmSound Of(Schedule schedule, SoundFeed? sound = null)
    {
        var ring = PlayAlongMaker.RingOf(schedule.Settings);
        var tail = new Seconds(Math.Max(Tail.Value, ring.Value));
        var whole = LeadIn + schedule.Rate.ToSeconds(schedule.Length) + tail;
        return new(new PaddedFeed(sound ?? PlayAlongMaker.Sound(schedule), LeadIn, tail - ring), whole, [.. schedule.Sections.Where(s => s.Phrase is not null).Select(s => PassageOf(schedule, s))])
        {
            Signs = TurnSign.Of(schedule, LeadIn),
            Remark = schedule.Faults.Fault == Fault.None ? "" : $"{schedule.Faults.Fault.WireName()} on purpose",
        };
    }

    private static SoundingPassage PassageOf(Schedule schedule, Section section)
    {
        var (plan, phrase) = (schedule.PlanOf(section), section.Phrase!);
        var offset = LeadIn + schedule.Rate.ToSeconds(section.Start) - plan.Line.Tempo.At(phrase.From);
        return new(plan, offset) { FirstNote = phrase.FirstNote, LastNote = phrase.LastNote };
    }
}
