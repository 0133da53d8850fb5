using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>Measures loudness and true peak of a piece by ITU-R BS.1770-5, in blocks of any size.</summary>
public sealed class LoudnessMeter
{
    /// <param name="rate">8,000 to 192,000 Hz.</param>
    /// <param name="channels">1 or 2, each with the weight 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">Rate or channels are beyond that.</exception>
    public LoudnessMeter(SampleRate rate, int channels) => throw new NotImplementedException();

    /// <summary>Loudness and peak of all that was added.</summary>
    public LoudnessReading Reading => throw new NotImplementedException();

    /// <summary>A whole feed, from its beginning to its end.</summary>
    public static LoudnessReading Measure(SoundFeed sound, CancellationToken cancel = default) => throw new NotImplementedException();

    /// <summary>The next frames; how they are cut into blocks changes nothing.</summary>
    /// <param name="interleaved">Whole frames; full scale is ±1.</param>
    /// <exception cref="ArgumentException">A broken frame, or a sample that is no finite number.</exception>
    public void Add(ReadOnlySpan<float> interleaved) => throw new NotImplementedException();

    /// <summary>Forgets everything.</summary>
    public void Reset() => throw new NotImplementedException();
}
