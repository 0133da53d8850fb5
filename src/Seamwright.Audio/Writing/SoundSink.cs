namespace Seamwright.Audio.Writing;

/// <summary>Takes a sound front to back and makes a file of it.</summary>
internal abstract class SoundSink : IDisposable
{
    /// <summary>The next frames.</summary>
    /// <exception cref="WritingFault">It cannot go on.</exception>
    public abstract void Write(ReadOnlySpan<float> interleaved);

    /// <summary>Completes the file.</summary>
    /// <exception cref="WritingFault">It cannot be completed.</exception>
    public abstract void Finish();

    public virtual void Dispose() => GC.SuppressFinalize(this);
}
