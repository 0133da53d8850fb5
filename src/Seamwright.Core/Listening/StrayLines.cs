namespace Seamwright.Core.Listening;

/// <summary>What sounds in one note beside its own harmonics: lines in its spectrum.</summary>
/// <param name="Hz">Pitch of the note.</param>
/// <param name="Time">Middle of the stretch that was looked at, seconds.</param>
/// <param name="Db">Level of the note there.</param>
/// <param name="Lines">Stray lines, upward.</param>
/// <param name="Own">Where the note's own harmonics, or those of notes shortly before it, hide what else there may be: Hz from and to.</param>
internal sealed record NoteLines(double Hz, double Time, double Db, List<(double Hz, double Power)> Lines, List<(double From, double To)> Own)
{
    /// <summary>Whether a line at a frequency could have been seen.</summary>
    public bool Shows(double hz) => !Own.Exists(o => hz > o.From && hz < o.To);

    /// <summary>The stray line nearest to a frequency; null where there is none within the reach.</summary>
    public (double Hz, double Power)? Near(double hz, double reach)
    {
        (double Hz, double Power)? best = null;
        foreach (var line in Lines)
        {
            if (Math.Abs(line.Hz - hz) <= reach && (best is null || line.Power > best.Value.Power)) best = line;
        }

        return best;
    }
}

/// <summary>Reads the stray lines of notes: local maxima that stand clear of the noise about them, away from what is the note's own.</summary>
/// <remarks>Raised-cosine window, so that a harmonic reaches no further than four widths of its line; the pitch may waver by a third of a semitone.</remarks>
internal sealed class StrayLines(SampleStore samples)
{
    public const double Lowest = 70;
    public const double Highest = 2500;

    private const int Rate = FinePitch.Rate;
    private const int Size = 8192;
    private const double Longest = 0.5;
    private const double Shortest = 0.18;
    private const double AfterOnset = 0.08;
    private const double BeforeEnd = 0.03;
    private const double Wavering = 0.015;

    // 12 dB over the median of the noise about it: of noise alone one bin in 60,000 lies so high (exponential: 2 to the power −16).
    private const float Clear = 16;
    private const int Neighbourhood = 32;

    private const int First = (int)(Lowest * Size / Rate);
    private const int Last = (int)(Highest * Size / Rate);

    private readonly Fourier fourier = new(Size);
    private readonly float[] re = new float[Size];
    private readonly float[] im = new float[Size];
    private readonly float[] power = new float[Last + Neighbourhood];
    private readonly bool[] hidden = new bool[Last + Neighbourhood];
    private readonly float[] near = new float[3 * Neighbourhood];

    /// <summary>The lines of one note; null where it is too short.</summary>
    /// <param name="from">Where it begins, seconds.</param>
    /// <param name="to">Where it ends.</param>
    /// <param name="hz">Its pitch.</param>
    /// <param name="db">Its level.</param>
    /// <param name="before">Pitches of notes that may still ring.</param>
    public NoteLines? Of(double from, double to, double hz, double db, IReadOnlyList<double> before)
    {
        var (a, b) = (from + AfterOnset, to - BeforeEnd);
        if (b - a < Shortest) return null;
        if (b - a > Longest) (a, b) = (((a + b) / 2) - (Longest / 2), ((a + b) / 2) + (Longest / 2));
        var count = (int)((b - a) * Rate);
        Transform(a, count);
        var own = Own(hz, before, 5 / (b - a));
        Hide(own);
        var lines = new List<(double, double)>();
        var scale = 8.0 / ((double)count * count); // of a sine of amplitude A the peak is A·count/4; its power A²/2
        for (var block = First; block < Last; block += Neighbourhood)
        {
            var floor = Clear * Floor(block);
            for (var k = block; k < Math.Min(Last, block + Neighbourhood); k++)
            {
                var (x, y, z) = (power[k - 1], power[k], power[k + 1]);
                if (hidden[k] || y < floor || y < x || y <= z) continue;
                var curve = x - (2 * y) + z;
                lines.Add(((k + (curve < 0 ? 0.5 * (x - z) / curve : 0)) * Rate / Size, scale * y));
            }
        }

        return new(hz, (a + b) / 2, db, lines, own);
    }

    private void Transform(double from, int count)
    {
        re.AsSpan().Clear();
        im.AsSpan().Clear();
        samples.CopyTo((long)(from * Rate), re.AsSpan(0, count));
        for (var i = 0; i < count; i++) re[i] *= (float)(0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / count)));
        fourier.Forward(re, im);
        for (var k = 0; k < power.Length; k++) power[k] = (re[k] * re[k]) + (im[k] * im[k]);
    }

    private static List<(double From, double To)> Own(double hz, IReadOnlyList<double> before, double width)
    {
        var own = new List<(double, double)>();
        foreach (var f in before.Append(hz))
        {
            for (var k = 1; k * f < Highest + 100; k++) own.Add(((k * f * (1 - Wavering)) - width, (k * f * (1 + Wavering)) + width));
        }

        return own;
    }

    private void Hide(List<(double From, double To)> own)
    {
        Array.Clear(hidden);
        foreach (var (from, to) in own)
        {
            var (first, last) = ((int)Math.Ceiling(from * Size / Rate), Math.Min(hidden.Length - 1, (int)(to * Size / Rate)));
            for (var k = Math.Max(0, first); k <= last; k++) hidden[k] = true;
        }
    }

    // Median of what is nobody's own in a stretch of the spectrum and its neighbours.
    private float Floor(int from)
    {
        const int Fewest = 8;
        var count = 0;
        for (var k = Math.Max(1, from - Neighbourhood); k < Math.Min(power.Length, from + (2 * Neighbourhood)); k++)
        {
            if (!hidden[k]) near[count++] = power[k];
        }

        if (count < Fewest) return float.MaxValue;
        near.AsSpan(0, count).Sort();
        return near[count / 2];
    }
}
