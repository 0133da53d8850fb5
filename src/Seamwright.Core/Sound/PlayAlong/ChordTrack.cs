using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A tone of the accompaniment.</summary>
/// <param name="At">Sample at which it is struck.</param>
/// <param name="Until">Sample at which it is let go.</param>
/// <param name="Midi">Note number.</param>
/// <param name="IsBass">Whether it is the bass.</param>
internal readonly record struct StruckTone(long At, long Until, int Midi, bool IsBass);

/// <summary>What the accompaniment plays: the bass on strong beats, the chord on the others, both where the chord changes.</summary>
internal static class ChordTrack
{
    /// <summary>Every tone, in order of time.</summary>
    public static ImmutableArray<StruckTone> Of(Schedule schedule)
    {
        var tones = new List<StruckTone>();
        Voiced? voiced = null;
        for (var s = 0; s < schedule.Sections.Length; s++)
        {
            var section = schedule.Sections[s];
            if (section.Phrase is null || schedule.PlanOf(section).Line.Chords.IsEmpty) continue;
            voiced = Add(schedule, section, StrokesOf(schedule, s), voiced, tones);
        }

        return [.. tones.OrderBy(t => t.At)];
    }

    private sealed record Stroke(long At, Chord? Chord, bool Bass, bool Upper);

    private static List<Stroke> StrokesOf(Schedule schedule, int index)
    {
        var section = schedule.Sections[index];
        var chords = schedule.PlanOf(section).Line.Chords;
        var (from, to) = (section.Phrase!.From, section.Phrase.To);
        var beats = BeatsOf(schedule, index);
        var places = beats.Keys.Concat(chords.Select(c => c.Start).Where(p => p > from && p < to)).Append(from).Distinct().Order();
        var strokes = new List<Stroke>();
        var (next, chord, changed) = (0, (Chord?)null, false);
        foreach (var place in places)
        {
            changed = strokes.Count == 0;
            for (; next < chords.Length && chords[next].Start <= place; next++) (chord, changed) = (chords[next].Chord, true);
            var known = beats.TryGetValue(place, out var beat);
            if (!known && !changed) continue;
            var strong = known && beat!.Strength is BeatStrength.Downbeat or BeatStrength.Group;
            strokes.Add(new Stroke(schedule.TimeOf(section, place), chord, changed || strong, changed || !strong));
        }

        return strokes;
    }

    private static Dictionary<Units.Beats, ScheduledBeat> BeatsOf(Schedule schedule, int section)
    {
        // Beats are in order of time, and so of section.
        var (low, high) = (0, schedule.Beats.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (schedule.Beats[middle].Section < section) low = middle + 1;
            else high = middle;
        }

        var found = new Dictionary<Units.Beats, ScheduledBeat>();
        for (; low < schedule.Beats.Length && schedule.Beats[low].Section == section; low++)
        {
            var beat = schedule.Beats[low];
            if (beat.Strength != BeatStrength.Subdivision) found[beat.Place!.Value] = beat;
        }

        return found;
    }

    private static Voiced? Add(Schedule schedule, Section section, List<Stroke> strokes, Voiced? voiced, List<StruckTone> tones)
    {
        Chord? sounding = null;
        for (var i = 0; i < strokes.Count; i++)
        {
            if (strokes[i].Chord is not { } chord)
            {
                sounding = null;
                continue;
            }

            if (chord != sounding) voiced = Voicing.Next(chord, voiced);
            sounding = chord;
            if (strokes[i].Bass) tones.Add(new StruckTone(strokes[i].At, Until(i, s => s.Bass), voiced!.Bass, true));
            if (strokes[i].Upper) tones.AddRange(voiced!.Upper.Select(m => new StruckTone(strokes[i].At, Until(i, s => s.Upper), m, false)));
        }

        return voiced;

        long Until(int i, Func<Stroke, bool> ends) => strokes.Skip(i + 1).FirstOrDefault(s => s.Chord is null || ends(s))?.At ?? section.End;
    }
}
