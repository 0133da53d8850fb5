namespace Seamwright.GroundTruth.Making;

/// <summary>A recorded note made steady: its pitch wanderings taken out by time-warping, its swelling by gain, its end joined to its beginning.</summary>
/// <param name="Hertz">Its pitch now.</param>
/// <param name="Loop">A whole number of periods; root mean square 1.</param>
/// <param name="Wandering">Cents that are left, every 5 ms of the loop.</param>
internal sealed record RealNote(double Hertz, float[] Loop, double[] Wandering)
{
    private const double Shortest = 0.25, CrossfadeMost = 0.08, SteadyDb = 6;

    /// <summary>Makes a note steady.</summary>
    /// <param name="samples">A recording of one held note.</param>
    /// <param name="rate">Samples a second.</param>
    /// <param name="near">Its pitch, give or take octaves.</param>
    /// <returns>Null where there is no steady part of a quarter of a second.</returns>
    public static RealNote? Of(float[] samples, int rate, double near)
    {
        var (from, to) = SteadyPart(samples, rate);
        if (to - from < Shortest * rate) return null;
        var part = samples[from..to];
        var hz = Octave(part, rate, near);
        for (var pass = 0; pass < 3; pass++) part = Warped(part, rate, hz);
        Flattening.Apply(part, rate, 0);
        if (Looped(part, rate, hz) is not { } loop) return null;
        return new RealNote(hz, loop, Left(loop, rate, hz));
    }

    // The longest stretch that stays within 6 dB of the loudest tenth, less 60 ms at either end.
    private static (int From, int To) SteadyPart(float[] samples, int rate)
    {
        var hop = rate / 100;
        var power = Enumerable.Range(0, samples.Length / hop).Select(i => samples.AsSpan(i * hop, hop).ToArray().Average(s => (double)s * s)).ToArray();
        var smooth = power.Select((_, i) => power[Math.Max(0, i - 2)..Math.Min(power.Length, i + 3)].Average()).ToArray();
        var limit = smooth.Order().ElementAt(smooth.Length * 9 / 10) * Math.Pow(10, -SteadyDb / 10);
        var (best, start) = ((0, 0), -1);
        for (var i = 0; i <= smooth.Length; i++)
        {
            if (i < smooth.Length && smooth[i] >= limit)
            {
                if (start < 0) start = i;
                continue;
            }

            if (start >= 0 && i - start > best.Item2 - best.Item1) best = (start, i);
            start = -1;
        }

        return ((best.Item1 * hop) + (6 * hop), (best.Item2 * hop) - (6 * hop));
    }

    // Of the octaves around a name, the highest pitch whose periods resemble one another nearly as well as any.
    private static double Octave(float[] part, int rate, double near)
    {
        var found = new[] { near / 2, near, near * 2 }.Select(n => Best(part, rate, n)).ToList();
        var most = found.Max(f => f.Likeness);
        return found.FindLast(f => f.Likeness > 0.93 * most).Hertz;
    }

    private static (double Hertz, double Likeness) Best(float[] part, int rate, double near)
    {
        var (best, bestLag) = (-1.0, rate / near);
        for (var lag = rate / near / 1.04; lag <= rate / near * 1.04; lag += 0.25)
        {
            var r = Likeness(part, lag);
            if (r > best) (best, bestLag) = (r, lag);
        }

        return (rate / bestLag, best);
    }

    private static double Likeness(float[] part, double lag)
    {
        double ab = 0, aa = 0, bb = 0;
        for (var i = 0; i < Math.Min(part.Length - (int)lag - 2, 12_000); i++)
        {
            var b = Interpolation.Linear(part, i + lag);
            ab += part[i] * b;
            aa += part[i] * part[i];
            bb += b * b;
        }

        return aa * bb == 0 ? 0 : ab / Math.Sqrt(aa * bb);
    }

    // Reads the sound where its phase has got to: afterwards the pitch is hz all the way.
    private static float[] Warped(float[] part, int rate, double hz)
    {
        var track = Demodulator.Track(part, rate, hz);
        for (var i = 0; i < track.Length; i++) if (track[i] <= 0 || Math.Abs(track[i] / hz - 1) > 0.06) track[i] = i > 0 ? track[i - 1] : hz;
        var warped = new List<float>(part.Length);
        for (var place = 0.0; place < part.Length - 1;)
        {
            warped.Add(Interpolation.Sinc(part, place));
            place += hz / Interpolation.Linear(track, (place / rate / Demodulator.Hop) - 0.5);
        }

        return [.. warped];
    }

    // A whole number of periods, its end faded into what lies before its beginning.
    private static float[]? Looped(float[] part, int rate, double hz)
    {
        var fade = (int)(Math.Min(CrossfadeMost, part.Length / (double)rate / 4) * rate);
        var period = rate / hz;
        var periods = (int)((part.Length - fade - 2) / period);
        if (periods < 8) return null;

        // The length that joins best among the last few.
        var best = Enumerable.Range(Math.Max(8, periods - 12), Math.Min(12, periods - 8) + 1).MaxBy(n => Joint(part, fade, n * period));
        var exact = best * period;
        var length = (int)Math.Round(exact);
        var loop = new float[length];
        for (var i = 0; i < length; i++)
        {
            // Stretched by less than half a sample in all, so that the loop is a whole number of samples too.
            var place = i * exact / length;
            var x = Math.Min(1.0, i / (double)fade);
            loop[i] = (float)((Interpolation.Sinc(part, place) * x) + (x < 1 ? Interpolation.Sinc(part, place + exact) * (1 - x) : 0));
        }

        Flattening.Apply(loop, rate, 0);
        return loop;
    }

    private static double Joint(float[] part, int fade, double length)
    {
        double ab = 0, aa = 0, bb = 0;
        for (var i = 0; i < fade; i += 2)
        {
            var b = Interpolation.Linear(part, i + length);
            ab += part[i] * b;
            aa += part[i] * part[i];
            bb += b * b;
        }

        return ab / Math.Sqrt((aa * bb) + 1e-12);
    }

    private static double[] Left(float[] loop, int rate, double hz)
    {
        // Three times round, and the middle one read, so that the join is seen as it will sound.
        var track = Demodulator.Track([.. loop, .. loop, .. loop], rate, hz);
        var hops = loop.Length / (double)rate / Demodulator.Hop;
        return [.. Enumerable.Range(0, (int)hops).Select(i => 1200 * Math.Log2(Math.Max(1, Interpolation.Linear(track, i + hops)) / hz))];
    }
}
