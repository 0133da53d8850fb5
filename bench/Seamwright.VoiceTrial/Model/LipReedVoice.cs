namespace Seamwright.VoiceTrial.Model;

/// <summary>What the player does at one moment.</summary>
/// <param name="LipHertz">The lips' own frequency.</param>
/// <param name="MouthPascal">Pressure in the mouth.</param>
internal readonly record struct Embouchure(double LipHertz, double MouthPascal);

/// <summary>A trombone in the time domain: lips, Bernoulli flow through them, the air column's resonances, the bell.</summary>
/// <remarks>Flow u = w·y·√(2·|Δp|/ρ)·sign Δp, solved together with the pressure it makes in the same sample: a quadratic, no iteration.
/// The lips move one sample behind the pressure. Allocates nothing after construction.</remarks>
internal sealed class LipReedVoice(double rate)
{
    // A slit wider than any measured (10 mm in the score named at Lip, 12 mm in Velut 2017, from memory): narrower ones speak late.
    private const double Width = 16e-3, Density = 1.2;
    private static readonly double Speed = Math.Sqrt(2 / Density);

    // An ordinary note's radiated peak of about 500 Pa, in these units, at 0.2 of full scale.
    private const double Scale = 0.2 / 500;

    private readonly ModalBank horn = new(rate, Horn.Count);
    private readonly Lip lip = new(rate);
    private readonly Bell bell = new(rate);
    private readonly double[] height = new double[Horn.Count], quality = new double[Horn.Count], tuned = new double[Horn.Count];
    private double cup, lipHertz;

    /// <summary>Samples from lips to sound.</summary>
    public double Delay => bell.Delay;

    public void Reset()
    {
        horn.Reset();
        lip.Reset();
        bell.Reset();
        cup = 0;
    }

    /// <summary>Sound while the player goes from one embouchure to another, the resonances standing at <paramref name="resonances"/>.</summary>
    /// <param name="from">At the first sample.</param>
    /// <param name="to">After the last one.</param>
    /// <param name="resonances">Hz, <see cref="Horn.Count"/> of them.</param>
    /// <param name="output">Any length; lips are retuned once, so at most a millisecond where they move.</param>
    public void Process(in Embouchure from, in Embouchure to, ReadOnlySpan<double> resonances, Span<float> output)
    {
        Tune(resonances, (from.LipHertz + to.LipHertz) / 2);
        var mouth = from.MouthPascal;
        var step = (to.MouthPascal - mouth) / output.Length;
        for (var i = 0; i < output.Length; i++)
        {
            lip.Advance(mouth - cup);
            var still = horn.Advance();
            var flow = Flow(mouth - still);
            horn.Feed(flow);
            cup = still + (horn.Feedthrough * flow);
            output[i] = (float)(Scale * bell.Advance((cup + (Horn.BoreImpedance * flow)) / 2));
            mouth += step;
        }
    }

    private void Tune(ReadOnlySpan<double> resonances, double hertz)
    {
        if (!resonances.SequenceEqual(tuned))
        {
            resonances.CopyTo(tuned);
            for (var n = 0; n < tuned.Length; n++)
            {
                quality[n] = Horn.Quality(tuned[n]);
                height[n] = Horn.Height(tuned[n], tuned[0], quality[n]);
            }

            horn.Tune(tuned, height, quality);
        }

        if (hertz != lipHertz) lip.Tune(lipHertz = hertz);
    }

    // u² = A²·|Δ − G·u| with A = w·y·√(2/ρ): the root that has the sign of Δ.
    private double Flow(double difference)
    {
        var a = Width * lip.Gap * Speed;
        if (a <= 0) return 0;
        var half = a * a * horn.Feedthrough / 2;
        var size = Math.Sqrt((half * half) + (a * a * Math.Abs(difference))) - half;
        return difference < 0 ? -size : size;
    }
}
