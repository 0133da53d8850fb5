using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>One long tone as it was heard, with the moments at which the tongue touched.</summary>
public sealed record HeardTone
{
    /// <summary>Pitch and level through the tone; only frames between <see cref="From"/> and <see cref="To"/> count.</summary>
    public required Track Track { get; init; }

    public required Seconds From { get; init; }

    public required Seconds To { get; init; }

    /// <summary>Middles of the touches, in any order; empty where the tongue was only imagined.</summary>
    public ImmutableArray<Seconds> Touches { get; init; } = [];

    /// <summary>Power-weighted mean frequency over the pitch, one for each frame of the track, null where not measured; empty where the
    /// ear gives none.</summary>
    public ImmutableArray<double?> Brightness { get; init; } = [];

    /// <summary>The tone between the beginning of a take's first note and the end of its last, touched at every change that was found.</summary>
    /// <returns>Null where no note was found.</returns>
    public static HeardTone? Of(Take take) => Of(take.Track, take.Notes, take.Changes);

    /// <summary>As <see cref="Of(Take)"/>, for one tone of the line.</summary>
    public static HeardTone? Of(Take take, LongTone tone) =>
        Of(take.Track, take.Notes[tone.First..(tone.Last + 1)], take.Changes[tone.First..tone.Last]) is { } heard ? heard with { Brightness = take.Brightness } : null;

    /// <summary>As <see cref="Of(Take)"/>, for one attempt of a take.</summary>
    public static HeardTone? Of(Take take, Attempt attempt) => Of(take.Track, attempt.Notes, attempt.Changes);

    private static HeardTone? Of(Track track, ImmutableArray<HeardNote> notes, ImmutableArray<HeardChange> changes)
    {
        var (first, last) = (notes.FirstOrDefault(n => n.Onset is not null), notes.LastOrDefault(n => n.Offset is not null));
        if (first is null || last is null) return null;
        return new HeardTone
        {
            Track = track,
            From = first.Onset!.Value,
            To = last.Offset!.Value,
            Touches = [.. changes.Where(c => c.DipCentre is not null).Select(c => c.DipCentre!.Value)],
        };
    }
}
