using System.Numerics;

namespace Seamwright.Core.Listening;

/// <summary>Where a recording was driven too far: samples at full scale, and flat tops that an earlier full scale left.</summary>
/// <remarks>Blocks of any size give the same result.</remarks>
internal sealed class Overload(double rate)
{
    // Half a millisecond at full scale is no musical peak.
    private const float FullScale = 0.999f;

    // Equal neighbours so far from zero: no peak of a played tone stays within half a step of 16 bits for so long.
    private const int FlatTop = 8;
    private const float FarFromZero = 0.1f;

    private readonly List<(int Frame, int Samples)> places = [];
    private float last;
    private int equal;
    private long heard;

    /// <summary>Samples at full scale so far.</summary>
    public long AtFullScale { get; private set; }

    /// <summary>Samples in flat tops below it so far: cut off before the sound was made softer.</summary>
    public long BelowFullScale { get; private set; }

    public void Push(ReadOnlySpan<float> samples)
    {
        for (var i = 0; i < samples.Length;)
        {
            if (i > 0 && NothingIn(samples, i))
            {
                i += Vector<float>.Count;
                (equal, last) = (1, samples[i - 1]);
                heard += Vector<float>.Count;
                continue;
            }

            var x = samples[i++];
            equal = x == last ? equal + 1 : 1;
            last = x;
            var height = Math.Abs(x);
            if (height >= FullScale) AtFullScale++;
            if (height >= FullScale) Add(1);
            else if (equal >= FlatTop && height >= FarFromZero)
            {
                var cut = equal == FlatTop ? FlatTop : 1;
                BelowFullScale += cut;
                Add(cut);
            }

            heard++;
        }
    }

    // Whether of the next few samples none is at full scale, and none equals the one before it.
    private static bool NothingIn(ReadOnlySpan<float> samples, int from)
    {
        if (from + Vector<float>.Count > samples.Length) return false;
        var here = new Vector<float>(samples[from..]);
        return Vector.LessThanAll(Vector.Abs(here), new Vector<float>(FullScale)) && !Vector.EqualsAny(here, new Vector<float>(samples[(from - 1)..]));
    }

    /// <summary>Share of the samples of a span that were cut off, 0 to 1.</summary>
    /// <param name="from">Seconds.</param>
    /// <param name="to">Seconds.</param>
    public double Share(double from, double to)
    {
        if (places.Count == 0 || to <= from) return 0;
        var (first, last) = ((int)(from / LiveEar.Hop), (int)(to / LiveEar.Hop));
        var i = places.BinarySearch((first, 0));
        var cut = 0L;
        for (i = i < 0 ? ~i : i; i < places.Count && places[i].Frame <= last; i++) cut += places[i].Samples;
        return Math.Min(1, cut / ((last - first + 1) * LiveEar.Hop * rate));
    }

    private void Add(int samples)
    {
        var frame = (int)(heard / (rate * LiveEar.Hop));
        if (places.Count > 0 && places[^1].Frame == frame) places[^1] = (frame, places[^1].Samples + samples);
        else places.Add((frame, samples));
    }
}
