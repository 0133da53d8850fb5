namespace Seamwright.Audio.Decoding;

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

    public virtual void Dispose() => GC.SuppressFinalize(this);
}
