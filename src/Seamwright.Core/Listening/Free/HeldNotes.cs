using System.Runtime.CompilerServices;

namespace Seamwright.Core.Listening.Free;

/// <summary>Cuts a track into held pitches without knowing any part.</summary>
/// <remarks>The cheapest path through three kinds of frames: nothing sounds, the pitch is under way, or one pitch of a grid of quarter
/// tones and halves of them is held. A held frame costs its distance from the grid pitch, a moving one a fixed sum, and each beginning
/// of a held pitch as much as ten moving frames: so vibrato stays one note, and a slide of more than about four semitones a second is
/// no staircase. Slower slides are told by what follows (<see cref="Slides"/>). Costs are proposed defaults. Linear in the recording.</remarks>
internal static class HeldNotes
{
    private const int PerSemitone = 4;
    private const double Lowest = 22;
    private const double Highest = 87;
    private const int States = (int)((Highest - Lowest) * PerSemitone) + 1;

    // What a frame costs, by what it is taken for.
    private const float PerDistance = 1 / 0.35f;
    private const float MostDistance = 3;
    private const float HeldWithoutPitch = 0.5f;
    private const float Moving = 1;
    private const float MovingWithoutPitch = 0.5f;
    private const float NothingWithPitch = 1.5f;
    private const float Beginning = 10;

    private const int Nothing = States;
    private const int UnderWay = States + 1;

    // Two pieces of one note, parted by a drift over the edge of a grid step or by a few frames without pitch.
    private const double SameNote = 0.6;
    private const int Bridge = 6;

    // No held pitch is carried over a silence so long, so the recording can be cut there.
    private const double Silence = 0.3;
    private const int Bytes = (States + 7) / 8;

    /// <summary>In order of time.</summary>
    public static List<HeldNote> Of(Sounding sound)
    {
        var found = new List<HeldNote>();
        var silence = sound.Frames(Silence);
        for (var i = 0; i < sound.Count;)
        {
            if (!sound.HasPitch(i))
            {
                i++;
                continue;
            }

            var (start, last) = (i, i);
            for (; i < sound.Count && i - last <= silence; i++)
            {
                if (sound.HasPitch(i)) last = i;
            }

            Cut(found, sound, start, last + 1);
        }

        return found;
    }

    private static void Cut(List<HeldNote> found, Sounding sound, int from, int to)
    {
        var path = PathOf(sound, from, to);
        for (var i = 0; i < path.Length;)
        {
            var (start, state) = (i, path[i].State);
            for (i++; i < path.Length && path[i].State == state && !path[i].Begins; i++)
            {
            }

            if (state < States) Add(found, sound, from + start, from + i);
        }
    }

    private static void Add(List<HeldNote> found, Sounding sound, int from, int to)
    {
        while (from < to && !sound.HasPitch(from)) from++;
        while (to > from && !sound.HasPitch(to - 1)) to--;
        if (MedianOf(sound, from, to) is not { } pitch) return;
        if (found.Count > 0 && from - found[^1].To <= Bridge && Math.Abs(found[^1].Pitch - pitch) < SameNote && !Steps(sound, found[^1], from, to) && MedianOf(sound, found[^1].From, to) is { } whole)
            found[^1] = new(found[^1].From, to, whole);
        else
            found.Add(new(from, to, pitch));
    }

    // A drift or a swing goes on on both sides of a seam; where the pitch stands still on both sides two notes lie less than a semitone apart, out of tune. Without a dip a
    // smaller step may as well be a player's correction.
    private static bool Steps(Sounding sound, HeldNote a, int from, int to)
    {
        const double LeastStep = 0.42, StepWithDip = 0.33, LeastDip = 2, MostMove = 0.3;
        const int Beside = 8, Near = 22, Far = 40;
        if (a.Frames < Far || to - from < Far) return false;
        var dip = Math.Min(sound.Db[a.To - Near], sound.Db[from + Near]) - Enumerable.Range(a.To - Beside, from - a.To + (2 * Beside)).Min(i => sound.Db[i]);
        var (before, ends) = (MedianOf(sound, a.To - Far, a.To - Near), MedianOf(sound, a.To - Near, a.To - Beside));
        var (begins, after) = (MedianOf(sound, from + Beside, from + Near), MedianOf(sound, from + Near, from + Far));
        var step = Math.Abs((begins - ends) ?? 0);
        return step >= (dip >= LeastDip ? StepWithDip : LeastStep) && Math.Abs((ends - before) ?? 1) < MostMove * step && Math.Abs((after - begins) ?? 1) < MostMove * step;
    }

    /// <summary>Median pitch of a stretch; null where it has none.</summary>
    public static double? MedianOf(Sounding sound, int from, int to)
    {
        var pitches = new List<float>(Math.Max(0, to - from));
        for (var i = from; i < to; i++)
        {
            if (sound.HasPitch(i)) pitches.Add(sound.Pitch[i]);
        }

        if (pitches.Count == 0) return null;
        pitches.Sort();
        return pitches[pitches.Count / 2];
    }

    private static (short State, bool Begins)[] PathOf(Sounding sound, int from, int to)
    {
        var (scores, costs) = (new float[States], new float[States]);
        Array.Fill(scores, Beginning);
        var (nothing, moving, free) = (0f, 0f, 0f);
        var begins = new byte[(to - from) * Bytes];
        var best = new short[to - from + 1];
        best[0] = Nothing;
        for (var i = 0; i < to - from; i++)
        {
            var pitched = sound.HasPitch(from + i);
            Costs(costs, pitched ? (sound.Pitch[from + i] - (float)Lowest) * PerSemitone : float.NaN);
            Step(scores, costs, free, begins.AsSpan(i * Bytes, Bytes));

            // Nothing and moving are left and entered freely.
            nothing = Math.Min(nothing, free) + (pitched ? NothingWithPitch : 0);
            moving = Math.Min(moving, free) + (pitched ? Moving : MovingWithoutPitch);
            (best[i + 1], free) = Cheapest(scores, nothing, moving);
            Level(scores, ref nothing, ref moving, ref free);
        }

        return Back(begins, best);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Costs(float[] costs, float place)
    {
        if (float.IsNaN(place))
        {
            Array.Fill(costs, HeldWithoutPitch);
            return;
        }

        for (var s = 0; s < States; s++) costs[s] = Math.Min(MostDistance, Math.Abs(s - place) * (PerDistance / PerSemitone));
    }

    // Adds the frame to every held pitch: one bit each says whether the pitch begins here.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Step(float[] scores, float[] costs, float free, Span<byte> begins)
    {
        for (var s = 0; s < States; s++)
        {
            if (free + Beginning < scores[s])
            {
                scores[s] = free + Beginning;
                begins[s >> 3] |= (byte)(1 << (s & 7));
            }

            scores[s] += costs[s];
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static (short State, float Score) Cheapest(float[] scores, float nothing, float moving)
    {
        var (state, score) = nothing <= moving ? (Nothing, nothing) : (UnderWay, moving);
        for (var s = 0; s < States; s++)
        {
            if (scores[s] < score) (state, score) = (s, scores[s]);
        }

        return ((short)state, score);
    }

    // Single precision holds only differences.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Level(float[] scores, ref float nothing, ref float moving, ref float free)
    {
        for (var s = 0; s < States; s++) scores[s] -= free;
        (nothing, moving, free) = (nothing - free, moving - free, 0);
    }

    private static (short State, bool Begins)[] Back(byte[] begins, short[] best)
    {
        var path = new (short, bool)[best.Length - 1];
        var state = best[^1];
        for (var i = path.Length - 1; i >= 0; i--)
        {
            var entered = state >= States || (begins[(i * Bytes) + (state >> 3)] & (1 << (state & 7))) != 0;
            path[i] = (state, entered && state < States);
            if (entered) state = best[i];
        }

        return path;
    }
}
