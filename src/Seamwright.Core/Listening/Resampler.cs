using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>Changes the sampling rate with a windowed sinc, block by block; the output has no lag against the input.</summary>
/// <remarks>Kaiser window, β = 9 (about 90 dB of stop band), 24 zero crossings a side, polyphase (Smith, "Digital Audio Resampling",
/// CCRMA). Blocks of any size give the same samples. <see cref="Slow"/> is the equivalent it is tested against.</remarks>
internal sealed class Resampler
{
    private const int Crossings = 24;
    private const double Beta = 9;

    // Share of the narrower band that passes; the rest is the transition.
    private const double PassBand = 0.93;

    // Beyond this many phases neighbouring ones differ by less than the stop band.
    private const int MostPhases = 8192;

    private readonly SlidingBuffer input = new();
    private readonly float[] table;
    private readonly int up;
    private readonly int down;
    private readonly int phases;
    private readonly int half;
    private long next;

    /// <param name="from">Samples a second that come in.</param>
    /// <param name="to">Samples a second that go out.</param>
    public Resampler(int from, int to)
    {
        var divisor = Gcd(from, to);
        (up, down) = (to / divisor, from / divisor);
        phases = Math.Min(up, MostPhases);
        var cutoff = PassBand * Math.Min(1, to / (double)from);
        half = (int)Math.Ceiling(Crossings / cutoff);
        table = up == down ? [] : Table(phases, half, cutoff);
    }

    /// <summary>Output sample n lies at the same time as input place n·from/to.</summary>
    public static float[] Convert(ReadOnlySpan<float> input, int from, int to)
    {
        var output = new SlidingBuffer();
        var resampler = new Resampler(from, to);
        resampler.Push(input, output);
        resampler.Finish(output);
        return output.From(0).ToArray();
    }

    /// <summary>Takes the next samples and appends what can be told from them.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Push(ReadOnlySpan<float> samples, SlidingBuffer output)
    {
        if (up == down)
        {
            output.Append(samples);
            return;
        }

        input.Append(samples);
        var end = Math.Max(next, (((input.Length - half) * up) + down - 1) / down);
        Fill(output, end);
        input.Forget((next * down / up) - half);
    }

    /// <summary>Appends the rest: beyond the end lies silence.</summary>
    public void Finish(SlidingBuffer output)
    {
        if (up == down) return;
        var count = ((input.Length * up) + down - 1) / down;
        Fill(output, count);
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

    private void Fill(SlidingBuffer output, long end)
    {
        if (end <= next) return;
        var room = output.Room((int)(end - next));
        var i = 0;
        if (phases == 1)
        {
            // One set of taps for all: four samples share each reading of it.
            for (; i < room.Length && (next * down) - half + 1 < 0; i++) room[i] = At(next++);
            for (; i + 4 <= room.Length && ((next + 3) * down) + half < input.Length; i += 4, next += 4)
                Vectors.FourDots(table, input.Slice((next * down) - half + 1, (3 * down) + table.Length), down, room.Slice(i, 4));
        }

        for (; i < room.Length; i++) room[i] = At(next++);
    }

    private float At(long n)
    {
        var place = n * down;
        var first = (place / up) - half + 1;
        var phase = (int)(place % up * phases / up);
        var taps = table.AsSpan(phase * 2 * half, 2 * half);
        var start = (int)Math.Max(0, -first);
        var end = (int)Math.Min(taps.Length, input.Length - first);

        // However the sound is cut into blocks, a sample is summed in one order.
        if (phases == 1 && end - start == taps.Length) return Vectors.OneOfFour(taps, input.Slice(first, taps.Length));
        return end <= start ? 0 : Vectors.Dot(input.Slice(first + start, end - start), taps[start..end]);
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
