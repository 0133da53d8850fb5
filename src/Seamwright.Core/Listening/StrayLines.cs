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
    private const int Size = 16384;
    private const double Longest = 0.5;
    private const double Shortest = 0.18;
    private const double AfterOnset = 0.08;
    private const double BeforeEnd = 0.03;
    private const double Wavering = 0.015;

    // 12 dB over the median of the noise within 60 Hz: of noise alone one bin in 60,000 lies so high (exponential: 2 to the power −16).
    private const float Clear = 16;
    private const int Neighbours = 60;

    private readonly Fourier fourier = new(Size);
    private readonly float[] re = new float[Size];
    private readonly float[] im = new float[Size];
    private readonly float[] power = new float[(Size / 2) + 1];

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
        var lines = new List<(double, double)>();
        var scale = 8.0 / ((double)count * count); // of a sine of amplitude A the peak is A·count/4; its power A²/2
        for (var k = Bin(Lowest); k < Bin(Highest); k++)
        {
            if (power[k] < power[k - 1] || power[k] <= power[k + 1]) continue;
            var at = (double)k * Rate / Size;
            if (own.Exists(o => at > o.From && at < o.To) || power[k] < Clear * Floor(k, own)) continue;
            var (x, y, z) = (power[k - 1], power[k], power[k + 1]);
            var curve = x - (2 * y) + z;
            lines.Add(((k + (curve < 0 ? 0.5 * (x - z) / curve : 0)) * Rate / Size, scale * y));
        }

        return new(hz, (a + b) / 2, db, lines, own);
    }

    private static int Bin(double hz) => (int)Math.Round(hz * Size / Rate);

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

    // Median of what is nobody's own about a bin.
    private float Floor(int k, List<(double From, double To)> own)
    {
        Span<float> near = stackalloc float[(2 * Neighbours) + 1];
        var count = 0;
        for (var i = k - Neighbours; i <= k + Neighbours; i += 2)
        {
            var at = (double)i * Rate / Size;
            if (i > 0 && i < power.Length && !own.Exists(o => at > o.From && at < o.To)) near[count++] = power[i];
        }

        if (count < 8) return float.MaxValue;
        near[..count].Sort();
        return near[count / 2];
    }
}
