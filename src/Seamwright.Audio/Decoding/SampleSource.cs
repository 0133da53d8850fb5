namespace Seamwright.Audio.Decoding;

/// <summary>A stretch of a file that could not be read.</summary>
/// <param name="From">First frame of the output.</param>
/// <param name="To">Frame after the last; the same where it is not known how much is missing.</param>
internal readonly record struct LostSpan(long From, long To);

/// <summary>A decoder: samples in file order at the file's own rate.</summary>
internal abstract class SampleSource : IDisposable
{
    /// <summary>1 or 2.</summary>
    public abstract int Channels { get; }

    /// <summary>Hz.</summary>
    public abstract int Rate { get; }

    /// <summary>Where a sample counts as cut off: full scale, or a step below it.</summary>
    public virtual float FullScale => 0.9999f;

    /// <summary>Writes whole frames, channels interleaved, and says how many floats; 0 at the end only.</summary>
    /// <param name="interleaved">At least one frame long.</param>
    public abstract int Read(Span<float> interleaved);

    /// <summary>Stretches met so far that could not be read, in order; complete at the end.</summary>
    public virtual IReadOnlyList<LostSpan> Lost => [];

    /// <summary>Whether the decoder said that something is damaged and not where; known at the end.</summary>
    public virtual bool IsLostSomewhere => false;

    /// <summary>Whether it may say so.</summary>
    public virtual bool MayLoseSomewhere => false;

    public virtual void Dispose() => GC.SuppressFinalize(this);
}
