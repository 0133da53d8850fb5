using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>How the room answers when a note ends.</summary>
/// <param name="Seconds60">Time for 60 dB of decay.</param>
/// <param name="Share">Share of a steady note's power that comes from the room, 0 to 1.</param>
internal readonly record struct Decay(double Seconds60, double Share)
{
    /// <summary>A player's own release may fall as fast as this: no room is told from it.</summary>
    public const double Dry = 0.15;

    /// <summary>A tail that begins higher is the player's own fading, or a microphone so far away that nothing can be undone.</summary>
    public const double LargestShare = 0.45;

    // A room that rings no longer is gone before a change is over, and a window's own edge looks the same.
    private const double Gone = 0.16;

    /// <summary>Whether it was read inside the music, where it is nothing of the player's.</summary>
    public bool IsHeardInside { get; init; }

    public bool Matters => Seconds60 > (IsHeardInside ? Gone : Dry) && Share is > 0.001 and <= LargestShare;
}

/// <summary>Estimates noise and reverberation from the recording itself.</summary>
/// <remarks>Decay between 5 and 25 dB below the note, as T20 of ISO 3382-1 reads it, at every note end that silence follows.</remarks>
internal static class RoomReader
{
    private const double Hop = LiveEar.Hop;
    private const int Longest = 160;
    private const int FewestReadings = 8;

    /// <summary>Level of the room's own noise, dB: where no pitch or only the background is heard, away from any note; without such a moment, what stands between the
    /// notes' harmonics, and no less than what lies so far below the loud notes that it does not matter.</summary>
    /// <param name="track">The recording.</param>
    /// <param name="between">Noise between the harmonics, dB; asked only where it is needed.</param>
    public static double NoiseOf(RoughTrack track, Func<double?>? between = null)
    {
        const int FromNotes = 8;
        const int Fewest = 10;
        var quiet = new List<double>();
        var since = 0;

        // A hum has a pitch and is no note: what never stops and keeps its level hides silence as noise does.
        var background = Background.AddTo(track.Silent, Array.ConvertAll(track.Hz, h => h > 0 ? 12 * MathF.Log2((float)h) : float.NaN), track.Db, Hop);
        for (var i = 0; i < track.Count; i++)
        {
            since = track.Hz[i] > 0 && !background[i] ? 0 : since + 1;
            if (since > 2 * FromNotes) quiet.Add(track.Db[i - FromNotes]);
        }

        var guess = Math.Min(OrderStatistic.At(track.Db, track.Count / 50), OrderStatistic.At(track.Db, (int)(0.98 * (track.Count - 1))) - 40);
        if (quiet.Count < Fewest) return Math.Max(guess, Math.Min(between?.Invoke() ?? guess, OrderStatistic.At(track.Db, track.Count / 50)));
        quiet.Sort();
        return Math.Max(guess, quiet[quiet.Count / 3]);
    }

    public static RoomSound Describe(RoughTrack track, RoomAnswer room, double clipped)
    {
        var noise = room.NoiseDb;
        var levels = Enumerable.Range(0, track.Count).Where(i => track.Hz[i] > 0 && !track.Silent[i]).Select(i => track.Db[i]);
        var count = levels.Count();
        var tone = count == 0 ? noise : OrderStatistic.At(levels, count / 2);
        return new RoomSound(new(noise), new(tone - noise), room.Decay is { Matters: true } d ? new Seconds(d.Seconds60) : null, clipped)
        {
            EchoDelay = room.Echo is { } e ? new Seconds(e.Delay) : null,
            EchoLevel = room.Echo is { } f ? new Decibels(20 * Math.Log10(f.Strongest)) : null,
        };
    }

    /// <summary>What to say of a room that spoils figures; nothing of an ordinary one.</summary>
    public static IEnumerable<Problem> Remarks(RoomAnswer room)
    {
        const int FewFlatTops = 400;
        const double Sound = 343; // m/s at 20 °C
        if (room.Other is { } other) yield return other.Remark();
        if (room.Hum is { } hum)
        {
            yield return new(
                "the room",
                $"hums at {hum.Hz:0.0} Hz and its multiples, {-hum.Db:0} dB below full scale.",
                "The hum was taken out before anything was measured; what little is left of it counts as noise. Another socket, cable or lamp may cure it.",
                Severity.Note);
        }

        if (room.Overload.BelowFullScale > FewFlatTops)
        {
            yield return new(
                "the recording",
                "was driven too far before it was made softer: tops are cut off flat below full scale.",
                "Levels, dips and bumps there read too small; record at a lower level.",
                Severity.Warning);
        }

        if (room.Echo is not { } echo) yield break;
        yield return new(
            "the room",
            $"sends the sound back after {echo.Delay * 1000:0} ms, {-20 * Math.Log10(echo.Strongest):0} dB softer, as a wall {echo.Delay * Sound / 2:0} m away does: the old note sounds into the new one.",
            "How deep and long a touch was, and whether a new note burst, often cannot be told here; put the microphone nearer or play away from the wall.",
            Severity.Warning);
    }

    /// <summary>How the room answers, by all that is heard of it.</summary>
    /// <remarks>What is heard inside the music lacks what died away while the pitch was on its way; an end holds the player's own release too. Where both
    /// are known the room lies between them.</remarks>
    /// <param name="inside">As <see cref="TailReader.Of"/> reads it.</param>
    /// <param name="ends">As <see cref="DecayOf"/> reads it.</param>
    public static Decay? Joined((bool Known, Decay? Decay) inside, Decay? ends)
    {
        // A player's own release begins as loud as the note; what begins a little softer is a microphone far away.
        const double Release = 0.7;
        if (!inside.Known) return ends is { Share: > Decay.LargestShare and <= Release } far ? far with { Share = Decay.LargestShare } : ends;
        if (inside.Decay is not { } heard || ends is not { Share: <= Decay.LargestShare } end) return inside.Decay;
        return heard with { Seconds60 = Math.Sqrt(heard.Seconds60 * end.Seconds60), Share = Math.Sqrt(heard.Share * end.Share) };
    }

    /// <summary>Median over the notes' ends; null where no end shows it.</summary>
    /// <param name="track">The whole recording.</param>
    /// <param name="notes">All notes heard, in any order.</param>
    /// <param name="noise">Level of the room's own noise, dB.</param>
    public static Decay? DecayOf(RoughTrack track, IEnumerable<Stretch> notes, double noise)
    {
        var found = Last(notes).Select(s => After(track, s, noise)).OfType<Decay>().OrderBy(d => d.Seconds60).ToList();
        if (found.Count == 0) return null;
        return new Decay(found[found.Count / 2].Seconds60, OrderStatistic.At(found.Select(d => d.Share), (found.Count - 1) / 2));
    }

    // Notes that nothing follows at once.
    private static IEnumerable<Stretch> Last(IEnumerable<Stretch> notes)
    {
        const int Silence = 30;
        var ordered = notes.OrderBy(n => n.From).ToList();
        return ordered.Where((n, i) => i + 1 == ordered.Count || ordered[i + 1].From - n.To > Silence);
    }

    private static Decay? After(RoughTrack track, Stretch note, double noise)
    {
        var levels = Enumerable.Range(note.From, Math.Max(0, Math.Min(track.Count, note.To) - note.From)).Select(i => track.Db[i]).Order().ToArray();
        if (levels.Length < 10) return null;
        var level = levels[levels.Length * 2 / 3];
        var last = note.From;
        for (var i = note.From; i < Math.Min(track.Count, note.To + 40); i++)
        {
            if (track.Db[i] >= level - 2) last = i;
        }

        var readings = Tail(track, last, level, noise);
        if (readings.Count < FewestReadings || readings[0].Db - readings[^1].Db < 10) return null;
        double[] times = [.. readings.Select(r => r.Time)];
        double[] db = [.. readings.Select(r => r.Db)];
        var (intercept, slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit(times, db);
        if (slope >= -10 || MathNet.Numerics.GoodnessOfFit.RSquared(times.Select(t => intercept + (slope * t)), db) < 0.6) return null;
        return new Decay(-60 / slope, Math.Clamp(Math.Pow(10, (intercept - level) / 10), 0, 1));
    }

    private static List<(double Time, double Db)> Tail(RoughTrack track, int last, double level, double noise)
    {
        var readings = new List<(double, double)>();
        for (var i = last + 1; i < Math.Min(track.Count, last + Longest); i++)
        {
            if (track.Db[i] < Math.Max(level - 30, noise + 6)) break;
            if (track.Db[i] <= level - 5) readings.Add(((i - last) * Hop, track.Db[i]));
        }

        return readings;
    }
}
