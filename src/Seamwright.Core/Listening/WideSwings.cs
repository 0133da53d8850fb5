namespace Seamwright.Core.Listening;

/// <summary>Lays a wide vibrato's pitch at the middle of its swings, so that it is one note to whatever looks for notes.</summary>
/// <remarks>A swing of more than a third of a semitone to each side leaves every band about a note's pitch. What counts as one: at least
/// six turns in a row, 60 to 140 ms apart (4 to 8 Hz), each way as long as its neighbours', about one middle, at one level. Two
/// notes played by turns dip between them, and stand still at each. All limits are proposed defaults. Linear in the recording.</remarks>
internal static class WideSwings
{
    // Semitones from turn to turn.
    private const double LeastWay = 0.6, MostWay = 1.6, Uneven = 1.7;

    // Semitones from one swing's middle to the next one's.
    private const double MostDrift = 0.25;

    // Seconds from turn to turn, turns in a row, and dB that the level may differ by within a way.
    private const double Shortest = 0.055, Longest = 0.145;
    private const int Fewest = 6;
    private const double MostDip = 4;

    // A sine spends a third of its time in the middle half of its way, two notes played by turns next to none.
    private const double LeastMiddle = 0.2;

    private readonly record struct Turn(int Frame, float Pitch);

    /// <summary>Changes the pitch where it swings widely.</summary>
    /// <param name="pitch">Semitones, NaN where there is none.</param>
    /// <param name="db">Level of the same frames.</param>
    /// <param name="hop">Seconds between frames.</param>
    public static void Settle(float[] pitch, double[] db, double hop)
    {
        var whole = pitch.ToArray();
        for (var from = 0; from < pitch.Length;)
        {
            if (float.IsNaN(whole[from]))
            {
                from++;
                continue;
            }

            var to = from;
            while (to < pitch.Length && !float.IsNaN(whole[to])) to++;
            var turns = TurnsOf(whole, from, to);
            for (var k = 0; k + Fewest <= turns.Count;)
            {
                var last = k;
                while (last + 1 < turns.Count && GoesOn(turns, k, last, whole, db, hop)) last++;
                if (last - k + 1 >= Fewest) Level(turns, k, last, whole, pitch, from, to, (int)(Longest / hop));
                k = Math.Max(k + 1, last);
            }

            from = to;
        }
    }

    // Highest and lowest places by turns, each at least so far from the one before.
    private static List<Turn> TurnsOf(float[] pitch, int from, int to)
    {
        var turns = new List<Turn>();
        var (high, low) = (from, from);
        var rising = 0;
        for (var i = from; i < to; i++)
        {
            if (pitch[i] > pitch[high]) high = i;
            if (pitch[i] < pitch[low]) low = i;
            if (rising >= 0 && pitch[high] - pitch[i] >= LeastWay)
            {
                turns.Add(new(high, pitch[high]));
                (rising, low) = (-1, i);
            }
            else if (rising <= 0 && pitch[i] - pitch[low] >= LeastWay)
            {
                turns.Add(new(low, pitch[low]));
                (rising, high) = (1, i);
            }
        }

        return turns;
    }

    // Whether the way to the turn after a run's last one is of the same kind as those before it.
    private static bool GoesOn(List<Turn> turns, int first, int last, float[] pitch, double[] db, double hop)
    {
        var (a, b) = (turns[last], turns[last + 1]);
        var (time, way) = ((b.Frame - a.Frame) * hop, Math.Abs(b.Pitch - a.Pitch));
        if (time is < Shortest or > Longest || way > MostWay) return false;
        var levels = db.AsSpan(a.Frame, b.Frame - a.Frame + 1);
        var (softest, loudest) = (double.MaxValue, double.MinValue);
        foreach (var level in levels) (softest, loudest) = (Math.Min(softest, level), Math.Max(loudest, level));
        if (loudest - softest > MostDip) return false;
        var middle = Middle(a, b);
        var inside = 0;
        for (var i = a.Frame; i <= b.Frame; i++) inside += Math.Abs(pitch[i] - middle) < way / 4 ? 1 : 0;
        if (inside < LeastMiddle * levels.Length) return false;
        if (last == first) return true;
        var before = Math.Abs(a.Pitch - turns[last - 1].Pitch);
        return Math.Max(way, before) <= Uneven * Math.Min(way, before) && Math.Abs(middle - Middle(turns[last - 1], a)) <= MostDrift;
    }

    private static double Middle(Turn a, Turn b) => (a.Pitch + b.Pitch) / 2.0;

    // From way to way on a straight line between their middles; a swing that is not whole at either end goes with its neighbour.
    private static void Level(List<Turn> turns, int first, int last, float[] whole, float[] pitch, int from, int to, int most)
    {
        var centres = Enumerable.Range(first, last - first).Select(k => (Frame: (turns[k].Frame + turns[k + 1].Frame) / 2.0, Pitch: Middle(turns[k], turns[k + 1]))).ToList();
        var (begin, end) = (turns[first].Frame, turns[last].Frame);
        var half = Math.Max(LeastWay, Math.Abs(turns[first].Pitch - turns[first + 1].Pitch)) / 2;
        while (begin > from && turns[first].Frame - begin < most && Math.Abs(whole[begin - 1] - centres[0].Pitch) <= half) begin--;
        while (end + 1 < to && end - turns[last].Frame < most && Math.Abs(whole[end + 1] - centres[^1].Pitch) <= half) end++;
        var at = 0;
        for (var i = begin; i <= end; i++)
        {
            while (at + 2 < centres.Count && i > centres[at + 1].Frame) at++;
            var (a, b) = (centres[at], centres[at + 1]);
            pitch[i] = (float)(a.Pitch + ((b.Pitch - a.Pitch) * Math.Clamp((i - a.Frame) / (b.Frame - a.Frame), 0, 1)));
        }
    }
}
