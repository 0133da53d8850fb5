using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>The filter of ITU-R BS.1770-5, annex 1, for one channel: a shelf for the head, then a high-pass.</summary>
/// <remarks>
/// The recommendation prints both sections for 48 kHz only and asks for the same response at other rates. Taking its two tables
/// back through the bilinear transform gives the analogue prototypes below, which are brought to every other rate by that
/// transform, tuned so that the corner stays where it is: the shelf (Vh·s² + Vb·s/Q + 1) ÷ (s² + s/Q + 1) and the high-pass
/// V·s² ÷ (s² + s/Q + 1), s relative to the corner. Near half the sample rate the transform presses the shelf together: at 997 Hz
/// the gain stays within 0.01 dB from 32 kHz up and within 0.21 dB at 8 kHz (0.05 at 16 kHz).
/// </remarks>
internal sealed class KWeighting
{
    private Biquad shelf, highPass;
    private double energy;

    public KWeighting(SampleRate rate) => (shelf, highPass) = (Shelf(rate), HighPass(rate));

    /// <summary>The first section.</summary>
    public static Biquad Shelf(SampleRate rate) => Biquad.FromAnalogue(
        1681.9744509555532, 0.7071752369554193, 1.5848647011308554, 1.2587209302325613, 1, rate);

    /// <summary>The second section.</summary>
    public static Biquad HighPass(SampleRate rate) => Biquad.FromAnalogue(38.13547087611305, 0.5003270373250421, 1.0049948987146884, 0, 0, rate);

    /// <summary>Weights every <paramref name="stride"/>th sample, beginning with the first, and adds the squares to what was added before.</summary>
    public void Add(ReadOnlySpan<float> samples, int stride)
    {
        // In locals, so that the loop keeps them in registers.
        var (first, second, sum) = (shelf, highPass, energy);
        for (var i = 0; i < samples.Length; i += stride)
        {
            var weighted = second.Process(first.Process(samples[i]));
            sum += weighted * weighted;
        }

        (shelf, highPass, energy) = (first, second, sum);
    }

    /// <summary>The sum of the squares since it was last taken.</summary>
    public double Take()
    {
        var taken = energy;
        energy = 0;
        shelf.Settle();
        highPass.Settle();
        return taken;
    }

    /// <summary>Back to silence.</summary>
    public void Reset()
    {
        energy = 0;
        shelf.Reset();
        highPass.Reset();
    }
}
