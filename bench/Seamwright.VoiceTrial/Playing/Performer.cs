using Seamwright.Core.Instruments;
using Seamwright.VoiceTrial.Model;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>Plays controls that are functions of time: resonances and lips follow every 1.3 ms, the breath every sample.</summary>
internal sealed class Performer(Instrument instrument)
{
    public const int Rate = 48_000;
    public const int Block = 64;

    private readonly LipReedVoice voice = new(Rate);
    private readonly double[] resonances = new double[Horn.Count];

    /// <summary>Renders from silence, the voice's own delay taken out.</summary>
    public float[] Play(double seconds, Func<double, Moment> at)
    {
        var delay = (int)voice.Delay;
        var samples = new float[(int)(seconds * Rate) + delay];
        voice.Reset();
        Fill(samples, at);
        return samples[delay..];
    }

    /// <summary>The sample loop alone: allocates nothing that <paramref name="at"/> does not.</summary>
    public void Fill(Span<float> samples, Func<double, Moment> at)
    {
        var before = at(0);
        Horn.Fill(instrument, before.Side, before.Travel, before.Scale, resonances);
        for (var i = 0; i < samples.Length; i += Block)
        {
            var length = Math.Min(Block, samples.Length - i);
            var after = at((i + length) / (double)Rate);
            if (after.Travel != before.Travel || after.Scale != before.Scale || !ReferenceEquals(after.Side, before.Side)) Horn.Fill(instrument, after.Side, after.Travel, after.Scale, resonances);
            voice.Process(new(before.LipHertz, before.Pascal), new(after.LipHertz, after.Pascal), resonances, samples.Slice(i, length));
            before = after;
        }
    }
}
