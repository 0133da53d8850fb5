namespace Seamwright.Core.Listening;

/// <summary>Changes the sampling rate with a windowed sinc; the output has no lag against the input.</summary>
/// <remarks>Kaiser window, β = 9 (about 90 dB of stop band), 24 zero crossings a side, polyphase (Smith, "Digital Audio Resampling",
/// CCRMA). <see cref="Slow"/> is the equivalent it is tested against.</remarks>
internal static class Resampler
{
    private const int Crossings = 24;
    private const double Beta = 9;

    // Share of the narrower band that passes; the rest is the transition.
    private const double PassBand = 0.93;

    // Beyond this many phases neighbouring ones differ by less than the stop band.
    private const int MostPhases = 8192;

    /// <summary>Output sample n lies at the same time as input place n·from/to.</summary>
    public static float[] Convert(ReadOnlySpan<float> input, int from, int to)
    {
        if (from == to) return input.ToArray();
        var divisor = Gcd(from, to);
        var (up, down) = (to / divisor, from / divisor);
        var phases = Math.Min(up, MostPhases);
        var cutoff = PassBand * Math.Min(1, to / (double)from);
        var half = (int)Math.Ceiling(Crossings / cutoff);
        var table = Table(phases, half, cutoff);
        var output = new float[(int)((((long)input.Length * up) + down - 1) / down)];
        for (var n = 0; n < output.Length; n++)
        {
            var place = (long)n * down;
            var whole = (int)(place / up);
            var phase = (int)(place % up * phases / up);
            output[n] = Tap(input, table.AsSpan(phase * 2 * half, 2 * half), whole - half + 1);
        }

        return output;
    }

    /// <summary>The defining sum, evaluated directly.</summary>
    public static double Slow(ReadOnlySpan<float> input, int from, int to, int n)
    {
        var cutoff = PassBand * Math.Min(1, to / (double)from);
        var half = (int)Math.Ceiling(Crossings / cutoff);
        var place = n * (double)from / to;
        var sum = 0.0;
        for (var j = (int)Math.Floor(place) - half + 1; j <= (int)Math.Floor(place) + half; j++)
        {
            if (j >= 0 && j < input.Length) sum += input[j] * Kernel(place - j, half, cutoff);
        }

        return sum;
    }

    private static float Tap(ReadOnlySpan<float> input, ReadOnlySpan<float> taps, int first)
    {
        var start = Math.Max(0, -first);
        var end = Math.Min(taps.Length, input.Length - first);
        if (end <= start) return 0;
        return Vectors.Dot(input.Slice(first + start, end - start), taps[start..end]);
    }

    private static float[] Table(int phases, int half, double cutoff)
    {
        var table = new float[phases * 2 * half];
        for (var p = 0; p < phases; p++)
        {
            for (var k = 0; k < 2 * half; k++)
                table[(p * 2 * half) + k] = (float)Kernel((p / (double)phases) + half - 1 - k, half, cutoff);
        }

        return table;
    }

    private static double Kernel(double t, int half, double cutoff)
    {
        var x = t / half;
        if (Math.Abs(x) >= 1) return 0;
        var sinc = t == 0 ? 1 : Math.Sin(Math.PI * cutoff * t) / (Math.PI * cutoff * t);
        return cutoff * sinc * Bessel(Beta * Math.Sqrt(1 - (x * x))) / Bessel(Beta);
    }

    private static double Bessel(double x) => MathNet.Numerics.SpecialFunctions.BesselI0(x);

    private static int Gcd(int a, int b) => b == 0 ? a : Gcd(b, a % b);
}
