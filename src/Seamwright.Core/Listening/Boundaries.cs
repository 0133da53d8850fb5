namespace Seamwright.Core.Listening;

/// <summary>A frame where a note may begin or end.</summary>
/// <param name="Frame">Place in the rough track.</param>
/// <param name="DipDb">How far the level falls below both sides here; 0 where it does not.</param>
/// <param name="PitchMoves">Whether the pitch changes here, or begins or ends.</param>
internal readonly record struct Boundary(int Frame, double DipDb, bool PitchMoves);

/// <summary>Collects every frame where something happens: the pitch moves, the level dips, sound begins or ends.</summary>
internal static class Boundaries
{
    // Frames of 5 ms: far enough to see past the rough track's blur, near enough for semiquavers.
    private const int Reach = 6;
    private const int DipReach = 16;
    private const double LeastMove = 60;
    private const double LeastDip = 0.7;
    private const int Nearest = 4;
    private const int Far = 20;

    /// <summary>In order of time, the first and the last frame included.</summary>
    public static Boundary[] Find(Sounding track)
    {
        var score = new float[track.Count];
        var dips = new float[track.Count];
        var moves = new bool[track.Count];
        for (var i = 1; i < track.Count - 1; i++)
        {
            dips[i] = (float)DipAt(track.Db, i);
            moves[i] = MovesAt(track, i);
            var edge = track.Silent[i] != track.Silent[i - 1] || float.IsNaN(track.Pitch[i]) != float.IsNaN(track.Pitch[i - 1]);
            score[i] = (dips[i] >= LeastDip ? 1 + dips[i] : 0) + (moves[i] ? 8 : 0) + (edge ? 5 : 0);
            moves[i] |= edge;
        }

        return Thin(score, dips, moves);
    }

    /// <summary>The same, and the ends of held tones where none lies near: a slow slide moves too little in any moment to be seen.</summary>
    public static Boundary[] WithEnds(Boundary[] places, List<Tone> tones)
    {
        var all = new List<Boundary>(places.Length);
        var next = 0;
        foreach (var end in tones.SelectMany(t => (int[])[t.From, t.To]))
        {
            while (next < places.Length && places[next].Frame <= end + Far) all.Add(places[next++]);
            if (end - all[^1].Frame > Far) all.Add(new(end, 0, true));
        }

        all.AddRange(places.AsSpan(next));
        return [.. all];
    }

    private static Boundary[] Thin(float[] score, float[] dips, bool[] moves)
    {
        var found = new List<Boundary> { new(0, 0, true) };
        for (var i = 1; i < score.Length - 1; i++)
        {
            if (score[i] <= 0 || !Tallest(score, i)) continue;
            var dip = 0f;
            var move = false;
            for (var k = Math.Max(0, i - Nearest); k <= Math.Min(score.Length - 1, i + Nearest); k++)
            {
                dip = Math.Max(dip, dips[k]);
                move |= moves[k];
            }

            found.Add(new(i, dip, move));
        }

        found.Add(new(Math.Max(1, score.Length - 1), 0, true));
        return [.. found];
    }

    private static bool Tallest(float[] score, int i)
    {
        for (var k = Math.Max(0, i - Nearest); k <= Math.Min(score.Length - 1, i + Nearest); k++)
        {
            if (score[k] > score[i] || (score[k] == score[i] && k < i)) return false;
        }

        return true;
    }

    private static double DipAt(double[] db, int i)
    {
        if (db[i] > db[i - 1] || db[i] > db[i + 1]) return 0;
        var before = db[i];
        var after = db[i];
        for (var k = 1; k <= DipReach && i - k >= 0 && db[i - k] >= db[i]; k++) before = Math.Max(before, db[i - k]);
        for (var k = 1; k <= DipReach && i + k < db.Length && db[i + k] >= db[i]; k++) after = Math.Max(after, db[i + k]);
        return Math.Min(before, after) - db[i];
    }

    private static bool MovesAt(Sounding track, int i)
    {
        var here = Span(track, i);
        return here >= LeastMove && here >= Span(track, i - 1) && here > Span(track, i + 1);
    }

    private static double Span(Sounding track, int i)
    {
        var (a, b) = (i - Reach, i + Reach);
        if (a < 0 || b >= track.Count || float.IsNaN(track.Pitch[a]) || float.IsNaN(track.Pitch[b])) return 0;
        return 100 * Math.Abs(track.Pitch[b] - track.Pitch[a]);
    }
}
