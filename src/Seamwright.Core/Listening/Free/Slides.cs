namespace Seamwright.Core.Listening.Free;

/// <summary>A pitch's way from one held note to the next without a break.</summary>
/// <param name="Ten">Seconds at which a tenth of the way is gone.</param>
/// <param name="Half">Half of it.</param>
/// <param name="Ninety">Nine tenths.</param>
/// <param name="Semitones">The whole way, signed.</param>
internal readonly record struct LongSlide(double Ten, double Half, double Ninety, double Semitones)
{
    public double Length => Ninety - Ten;
}

/// <summary>Tells slides from notes where no part says which is which.</summary>
internal static class Slides
{
    /// <summary>An ordinary move over six positions takes at most 0.31 s (160 ms and 25 ms a further position, proposed default), and the
    /// pitch spends 0.507 of a minimum-jerk movement between a tenth and nine tenths: longer than this no quick slide lasts.</summary>
    public const double Longest = 0.2;

    private const double Middle = 0.6;
    private const double MovesAlong = 0.35, PaceOver = 0.1;
    private const double Apart = 0.06;
    private const double LeastSemitones = 0.7;
    private const double Outside = 0.6;
    private const double Sounds = 0.9;

    /// <summary>Takes out what only looks held while a slow slide passes through it: its own middle moves along with the notes about it.</summary>
    public static List<HeldNote> WithoutSteps(List<HeldNote> notes, Sounding sound)
    {
        var apart = sound.Frames(Apart);
        bool IsStep(int i)
        {
            if (i == 0 || i == notes.Count - 1) return false;
            var (a, b, c) = (notes[i - 1], notes[i], notes[i + 1]);
            if (b.From - a.To > apart || c.From - b.To > apart || Math.Sign(b.Pitch - a.Pitch) != Math.Sign(c.Pitch - b.Pitch)) return false;
            return MoveIn(b, sound) / ((c.Pitch - a.Pitch) / 2) > MovesAlong;
        }

        return [.. notes.Where((_, i) => !IsStep(i))];
    }

    /// <summary>The way between two neighbouring notes; null where it breaks, or is no longer than an ordinary move.</summary>
    public static LongSlide? Between(HeldNote a, HeldNote b, Sounding sound)
    {
        var way = b.Pitch - a.Pitch;
        if (Math.Abs(way) < LeastSemitones) return null;
        var (ten, half, ninety) = (LastBelow(0.1, a, b, sound), LastBelow(0.5, a, b, sound), FirstAbove(0.9, a, b, sound));
        if ((ninety - ten) * sound.Hop <= Longest || !Continuous(ten, ninety, a, b, sound)) return null;
        return new(ten * sound.Hop, half * sound.Hop, ninety * sound.Hop, way);
    }

    // How far the pitch goes in the whole note: along a straight line through its middle, and at the pace it keeps most of the time there, whichever is less. A slide never stands
    // still, as two notes out of tune do, and never turns back, as a note that trembles does.
    private static double MoveIn(HeldNote note, Sounding sound)
    {
        var edge = (int)((1 - Middle) / 2 * note.Frames);
        var frames = Enumerable.Range(note.From + edge, note.Frames - (2 * edge)).Where(sound.HasPitch).ToArray();
        if (frames.Length < 4) return 0;
        var apart = Math.Min(sound.Frames(PaceOver), frames.Length / 2);
        var pace = OrderStatistic.Median(Enumerable.Range(0, frames.Length - apart).Select(i => (double)(sound.Pitch[frames[i + apart]] - sound.Pitch[frames[i]]) / (frames[i + apart] - frames[i])));
        var (_, slope) = MathNet.Numerics.LinearRegression.SimpleRegression.Fit([.. frames.Select(f => (double)f)], [.. frames.Select(f => (double)sound.Pitch[f])]);
        return pace * slope <= 0 ? 0 : Math.MinMagnitude(pace, slope) * note.Frames;
    }

    private static double Share(int frame, HeldNote a, HeldNote b, Sounding sound) => (sound.Pitch[frame] - a.Pitch) / (b.Pitch - a.Pitch);

    private static int LastBelow(double share, HeldNote a, HeldNote b, Sounding sound)
    {
        var last = Middling(a);
        for (var i = last; i <= Middling(b); i++)
        {
            if (sound.HasPitch(i) && Share(i, a, b, sound) < share) last = i;
        }

        return last;
    }

    private static int FirstAbove(double share, HeldNote a, HeldNote b, Sounding sound)
    {
        var first = Middling(b);
        for (var i = first; i >= Middling(a); i--)
        {
            if (sound.HasPitch(i) && Share(i, a, b, sound) > share) first = i;
        }

        return first;
    }

    private static int Middling(HeldNote note) => (note.From + note.To) / 2;

    // It sounds all the way, and no two neighbouring frames lie further apart than a slide can go: a break jumps.
    private static bool Continuous(int from, int to, HeldNote a, HeldNote b, Sounding sound)
    {
        var (sounding, jump, last) = (0, 0.0, -1);
        for (var i = from; i <= to; i++)
        {
            if (!sound.HasPitch(i)) continue;
            sounding++;
            if (last >= 0) jump = Math.Max(jump, Math.Abs(sound.Pitch[i] - sound.Pitch[last]));
            last = i;
        }

        return sounding >= Sounds * (to - from + 1) && jump < Math.Max(Outside, 0.4 * Math.Abs(b.Pitch - a.Pitch));
    }
}
