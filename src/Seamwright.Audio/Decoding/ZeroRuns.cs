namespace Seamwright.Audio.Decoding;

/// <summary>Finds stretches in which every sample is exactly 0, as decoders put them where sound is missing.</summary>
internal sealed class ZeroRuns(int channels, int rate)
{
    // A shorter one is a rest of the sound's own, or no frame of any codec.
    private const double Shortest = 0.005;
    private const int Most = 10_000;

    private readonly List<LostSpan> found = [];
    private long frames;
    private long zeros;

    /// <summary>Those that have sound before and behind them.</summary>
    public IEnumerable<LostSpan> Inside => found;

    /// <summary>Takes the next samples.</summary>
    /// <param name="interleaved">Whole frames.</param>
    public void Look(ReadOnlySpan<float> interleaved)
    {
        for (var i = 0; i < interleaved.Length; i += channels, frames++)
        {
            if (interleaved[i] == 0 && interleaved[i + channels - 1] == 0) zeros++;
            else if (zeros > 0) End();
        }
    }

    private void End()
    {
        if (zeros >= Shortest * rate && zeros < frames && found.Count < Most) found.Add(new(frames - zeros, frames));
        zeros = 0;
    }
}
