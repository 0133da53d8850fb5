using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Layout;

namespace Seamwright.Film.Score;

/// <summary>A system that comes into one of the two places.</summary>
/// <param name="Time">Film time in seconds; negative infinity for what stands there from the beginning.</param>
/// <param name="Slot">0 above, 1 below.</param>
/// <param name="System">Of the systems.</param>
public readonly record struct SlotTurn(double Time, int Slot, int System);

/// <summary>What the head of the screen says from a time on.</summary>
/// <param name="Time">Film time in seconds.</param>
/// <param name="Bar">Printed number.</param>
/// <param name="BeatsPerMinute">As it sounds.</param>
/// <param name="Beat">What is counted.</param>
public readonly record struct BarStart(double Time, string Bar, double BeatsPerMinute, BeatNote Beat);

/// <summary>What is seen at one time.</summary>
/// <param name="Visit">Index of the cursor's run, from 0.</param>
/// <param name="CursorX">In the units of that run's system.</param>
/// <param name="Travel">Of the slide, in centimetres.</param>
/// <param name="Setting">Whose valves are held.</param>
/// <param name="Change">Index of the change that is lit or comes next; −1 after the last.</param>
/// <param name="IsLit">Whether that change is lit.</param>
/// <param name="Bar">Index among the bar starts; −1 where there are none.</param>
public readonly record struct FilmMoment(int Visit, double CursorX, double Travel, SlideSetting Setting, int Change, bool IsLit, int Bar);

/// <summary>A whole film as a function of time, without a picture: which systems stand where, where the cursor is, how far the
/// slide is out and which change is lit.</summary>
/// <remarks>Times are seconds of film. Everything follows from sounding passages and the places on the engraved systems.</remarks>
public sealed class FilmScore
{
    // The system just left stays this long, so that a reader's eye is never chased, and never longer than this share of the visit.
    private const double TurnAfter = 1.2, TurnShare = 0.3;
    private readonly double[] visitStarts, changeOffs, barTimes;

    private FilmScore(Part part, ImmutableArray<SystemPlaces> systems, ImmutableArray<SoundingPassage> passages)
    {
        Visits = CursorPath.Of(part, systems, passages);
        Slide = SlidePath.Of(passages);
        Changes = LitChange.Of(passages);
        Bars = [.. passages.SelectMany(BarsOf)];
        Turns = [.. TurnsOf(Visits)];
        visitStarts = [.. Visits.Select(v => v.Start)];
        changeOffs = [.. Changes.Select(c => c.Off)];
        barTimes = [.. Bars.Select(b => b.Time)];
    }

    /// <summary>Runs of the cursor, in time; the place on the screen alternates whenever the system does.</summary>
    public ImmutableArray<SystemVisit> Visits { get; }

    /// <summary>When which system comes to stand where, in time.</summary>
    public ImmutableArray<SlotTurn> Turns { get; }

    public SlidePath Slide { get; }

    /// <summary>In time.</summary>
    public ImmutableArray<LitChange> Changes { get; }

    /// <summary>In time.</summary>
    public ImmutableArray<BarStart> Bars { get; }

    /// <summary>Composes the film.</summary>
    /// <param name="part">As engraved.</param>
    /// <param name="systems">Where its notes stand, in sheet order.</param>
    /// <param name="passages">In time, not overlapping.</param>
    /// <returns>Null where no note that can be played stands on the sheet.</returns>
    public static FilmScore? Compose(Part part, ImmutableArray<SystemPlaces> systems, ImmutableArray<SoundingPassage> passages)
    {
        if (!passages.Any(p => p.Notes.Any(n => n.Setting is not null))) return null;
        var made = new FilmScore(part, systems, passages);
        return made.Visits.IsEmpty ? null : made;
    }

    /// <summary>What is seen at a time.</summary>
    /// <param name="time">Seconds of film; before the first note everything waits for it.</param>
    public FilmMoment At(double time)
    {
        var visit = Math.Max(0, Before(visitStarts, time));
        var change = Before(changeOffs, time) + 1;
        return new(
            visit,
            Visits[visit].CursorAt(time),
            Slide.TravelAt(time),
            Slide.SettingAt(time),
            change < Changes.Length ? change : -1,
            change < Changes.Length && Changes[change].On <= time,
            Bars.IsEmpty ? -1 : Math.Max(0, Before(barTimes, time)));
    }

    // The last one that is not after the time; −1 for none.
    private static int Before(double[] times, double time)
    {
        var i = Array.BinarySearch(times, time);
        if (i < 0) return ~i - 1;
        while (i + 1 < times.Length && times[i + 1] <= time) i++;
        return i;
    }

    private static IEnumerable<SlotTurn> TurnsOf(ImmutableArray<SystemVisit> visits)
    {
        if (visits.IsEmpty) yield break;
        var stands = new int?[2];
        for (var i = 0; i < visits.Length; i++)
        {
            var visit = visits[i];
            var time = i == 0 ? double.NegativeInfinity : visit.Start;
            if (stands[visit.Slot] != visit.System) yield return new(time, visit.Slot, visit.System);
            stands[visit.Slot] = visit.System;
            if (visits.Skip(i + 1).FirstOrDefault(v => v.System != visit.System) is not { } next || stands[next.Slot] == next.System) continue;
            stands[next.Slot] = next.System;
            yield return new(i == 0 ? time : visit.Start + Math.Min(TurnAfter, TurnShare * (visit.End - visit.Start)), next.Slot, next.System);
        }
    }

    private static IEnumerable<BarStart> BarsOf(SoundingPassage passage)
    {
        if (passage.Notes.IsEmpty) yield break;
        var line = passage.Plan.Line;
        var (first, last) = (passage.Notes[0].Note, passage.Notes[^1].Note);
        var bars = line.Bars.IsDefaultOrEmpty
            ? line.Notes.DistinctBy(n => n.Bar).Select(n => (n.Bar, n.Start, n.End, Beat: BeatNote.Quarter))
            : line.Bars.Select(b => (Bar: b.Number, b.Start, End: b.Start + b.Length, Beat: BeatNotes.Of(b.Meter)));

        // The bar of an upbeat began before its passage: then another one was still played.
        foreach (var (bar, start, end, beat) in bars.Where(b => b.End > first.Start && b.Start < last.End))
            yield return new(passage.At(line.Tempo.At(start < first.Start ? first.Start : start)).Value, bar, TempoAt(line.Tempo, start) * passage.TempoRatio / beat.Quarters(), beat);
    }

    private static double TempoAt(TempoMap tempo, Beats place) =>
        tempo.Marks.LastOrDefault(m => m.At <= place) is { QuartersPerMinute: > 0 } mark ? mark.QuartersPerMinute : tempo.Marks[0].QuartersPerMinute;
}
