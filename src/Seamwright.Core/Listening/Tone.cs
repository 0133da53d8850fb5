namespace Seamwright.Core.Listening;

/// <summary>A stretch in which one pitch is held.</summary>
/// <param name="From">First frame.</param>
/// <param name="To">Frame after the last.</param>
/// <param name="Pitch">Median, semitones.</param>
/// <param name="Weight">0 to 1: how much it looks like a note; fragments and pieces of a slide weigh little.</param>
/// <param name="DipDb">How deep the level dips before it, where the same pitch goes on from the tone before; else NaN.</param>
/// <param name="Moved">Octaves by which the tracker's pitch was mended, in semitones.</param>
internal readonly record struct Tone(int From, int To, float Pitch, float Weight, float DipDb, int Moved)
{
    /// <summary>Whether the same pitch goes on from the tone before without a silence.</summary>
    public bool GoesOn => !float.IsNaN(DipDb);
}

/// <summary>Cuts a recording into held pitches, and mends their octaves.</summary>
internal static class Tones
{
    private const double Shortest = 0.04;
    private const double FullWeight = 0.15;
    private const double Bridge = 0.03;
    private const float Band = 0.5f;
    private const int MeanOver = 400;
    private const double SplittingDip = 2;
    private const double LeastPiece = 0.05;
    private const float Sliding = 0.5f;
    private const double LongestSlide = 0.6;

    /// <summary>In order of time.</summary>
    /// <param name="s">The recording.</param>
    /// <param name="places">Where its level dips.</param>
    public static List<Tone> Of(Sounding s, Boundary[] places)
    {
        var found = new List<Tone>();
        var (shortest, bridge, place) = (s.Frames(Shortest), s.Frames(Bridge), 0);
        for (var i = 0; i < s.Count;)
        {
            if (!s.HasPitch(i))
            {
                i++;
                continue;
            }

            var end = EndOf(s, i, bridge);
            if (end - i >= shortest) AddPieces(s, i, end, places, ref place, found);
            i = end - i >= shortest ? end : i + 1;
        }

        return found;
    }

    private static int EndOf(Sounding s, int start, int bridge)
    {
        var (mean, count, last) = (s.Pitch[start], 1, start);
        for (var i = start + 1; i < s.Count && i - last <= bridge; i++)
        {
            if (!s.HasPitch(i) || Math.Abs(s.Pitch[i] - mean) > Band) continue;
            count = Math.Min(count + 1, MeanOver);
            mean += (s.Pitch[i] - mean) / count;
            last = i;
        }

        return last + 1;
    }

    private static void AddPieces(Sounding s, int from, int to, Boundary[] places, ref int place, List<Tone> found)
    {
        var least = s.Frames(LeastPiece);
        while (place < places.Length && places[place].Frame < from + least) place++;
        var (start, dip) = (from, float.NaN);
        for (; place < places.Length && places[place].Frame <= to - least; place++)
        {
            var p = places[place];
            if (p.DipDb < SplittingDip || p.Frame - start < least) continue;
            found.Add(Piece(s, start, p.Frame, dip));
            (start, dip) = (p.Frame, (float)p.DipDb);
        }

        found.Add(Piece(s, start, to, dip));
    }

    private static Tone Piece(Sounding s, int from, int to, float dip)
    {
        var pitches = new List<float>(to - from);
        for (var i = from; i < to; i++)
        {
            if (s.HasPitch(i)) pitches.Add(s.Pitch[i]);
        }

        var quarter = Math.Max(1, pitches.Count / 4);
        var slide = pitches.Count < 4 ? 0 : Math.Abs(pitches.TakeLast(quarter).Average() - pitches.Take(quarter).Average());
        var middle = pitches.Skip(pitches.Count / 5).Take(Math.Max(1, pitches.Count * 3 / 5)).Order().ToList();
        var pitch = middle[middle.Count / 2];
        var weight = Math.Min(1, (to - from) * s.Hop / FullWeight);
        if (slide > Sliding && (to - from) * s.Hop < LongestSlide) weight *= 0.2;
        var moved = Most(s, from, to, -12) ? -12 : Most(s, from, to, 12) ? 12 : 0;
        if (moved != 0) s.Move(from, to, moved);
        return new(from, to, pitch + moved, (float)weight, dip, moved);
    }

    private static bool Most(Sounding s, int from, int to, int away)
    {
        var (yes, all) = (0, 0);
        for (var i = from; i < to; i += 2)
        {
            if (!s.HasPitch(i)) continue;
            all++;
            if (s.LiesOff(i, away)) yes++;
        }

        return yes * 5 > all * 3;
    }
}
