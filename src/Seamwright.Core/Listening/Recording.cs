using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A mono recording in memory.</summary>
/// <remarks>Samples are −1 to 1 at full scale; levels measured from them are in dB relative to full scale and never a sound
/// pressure level. Equality is by reference.</remarks>
public sealed class Recording(ReadOnlyMemory<float> samples, SampleRate rate)
{
    public ReadOnlyMemory<float> Samples { get; } = samples;

    public SampleRate Rate { get; } = rate;

    public Seconds Duration => Rate.ToSeconds(Samples.Length);
}
