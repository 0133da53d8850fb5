using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>What holds from a moment of a play-along on, until the next moment.</summary>
public sealed record Moment
{
    /// <summary>From the beginning of the sound.</summary>
    public required Seconds Time { get; init; }

    /// <summary>Index of the section.</summary>
    public required int Section { get; init; }

    /// <summary>Printed number of the bar; empty in a count-in or wait.</summary>
    public required string Bar { get; init; }

    /// <summary>Place in the bar, 1 for the downbeat, counted in the lower number of the meter; null where bars do not run.</summary>
    public required Beats? Beat { get; init; }

    /// <summary>Whether a counted beat falls here.</summary>
    public required bool OnBeat { get; init; }

    /// <summary>Index in the plan of the note that is to sound; null in a rest.</summary>
    public required int? Note { get; init; }

    /// <summary>Whether that note begins here.</summary>
    public required bool Begins { get; init; }
}

/// <summary>Every moment at which something changes: a section, a bar, a beat, a note.</summary>
public static class TimeMap
{
    // Two things nearer than this are one moment: no eye tells them apart.
    private static readonly Seconds Apart = new(0.001);

    /// <summary>Moments in strictly ascending order; the first is at 0.</summary>
    public static ImmutableArray<Moment> Of(Schedule schedule)
    {
        var moments = ImmutableArray.CreateBuilder<Moment>();
        var beat = 0;
        for (var s = 0; s < schedule.Sections.Length; s++)
        {
            var first = beat;
            while (beat < schedule.Beats.Length && schedule.Beats[beat].Section == s) beat++;
            Add(schedule, s, schedule.Beats.AsSpan(first, beat - first), moments);
        }

        return moments.ToImmutable();
    }

    private readonly record struct Event(long At, Beats? Place, ScheduledBeat? Beat, PlayedNote? Onset, bool Release);

    private static void Add(Schedule schedule, int index, ReadOnlySpan<ScheduledBeat> beats, ImmutableArray<Moment>.Builder moments)
    {
        var section = schedule.Sections[index];
        var events = EventsOf(schedule, section, beats);
        var near = schedule.Rate.ToSamples(Apart);
        PlayedNote? note = null;
        ScheduledBeat? lastBeat = null;
        for (var i = 0; i < events.Count;)
        {
            var at = events[i].At;
            var (onBeat, begins, place) = (false, false, (Beats?)null);
            for (; i < events.Count && events[i].At - at < near; i++)
            {
                var e = events[i];
                if (e.Release && note is not null && note.End <= e.Place) note = null;
                if (e.Onset is not null) (note, begins) = (e.Onset, true);
                if (e.Beat is not null) (lastBeat, onBeat) = (e.Beat, e.Beat.Strength != BeatStrength.Subdivision || onBeat);
                if (e.Place is not null) place = e.Place;
            }

            moments.Add(MomentAt(schedule, section, index, at, place, lastBeat) with { OnBeat = onBeat, Begins = begins, Note = note?.Index });
        }
    }

    private static Moment MomentAt(Schedule schedule, Section section, int index, long at, Beats? place, ScheduledBeat? beat)
    {
        var bar = section.Phrase is { } phrase ? Phrases.BarAt(schedule.PlanOf(section).Line, place ?? phrase.From) : null;
        return new Moment
        {
            Time = schedule.Rate.ToSeconds(at),
            Section = index,
            Bar = bar?.Number ?? "",
            Beat = bar is null ? beat?.Number : ((place ?? section.Phrase!.From) - bar.Start + bar.Shift).Times(bar.Meter.BeatUnit, 4) + Beats.Quarter,
            OnBeat = false,
            Note = null,
            Begins = false,
        };
    }

    private static List<Event> EventsOf(Schedule schedule, Section section, ReadOnlySpan<ScheduledBeat> beats)
    {
        var events = new List<Event> { new(section.Start, section.Phrase?.From, null, null, false) };
        foreach (var beat in beats) events.Add(new Event(beat.At, beat.Place, beat, null, false));
        if (section.Phrase is { } phrase)
        {
            var line = schedule.PlanOf(section).Line;
            for (var n = phrase.FirstNote; n <= phrase.LastNote; n++)
            {
                var note = line.Notes[n];
                events.Add(new Event(schedule.TimeOf(section, note.Start), note.Start, null, note, false));
                if (note.End < phrase.To) events.Add(new Event(schedule.TimeOf(section, note.End), note.End, null, null, true));
            }

            for (var b = Phrases.IndexOfBar(line, phrase.From); b < line.Bars.Length && line.Bars[b].Start < phrase.To; b++)
            {
                if (line.Bars[b].Start > phrase.From) events.Add(new Event(schedule.TimeOf(section, line.Bars[b].Start), line.Bars[b].Start, null, null, false));
            }
        }

        // A note that ends where the next begins is let go first.
        return [.. events.OrderBy(e => e.At).ThenByDescending(e => e.Release)];
    }
}
