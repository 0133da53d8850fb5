using Seamwright.Audio.Decoding;

namespace Seamwright.Audio.Flac;

/// <summary>A damaged FLAC file, decoded from its mended copy, which is deleted at the end.</summary>
internal sealed class MendedFlacSource : SampleSource
{
    private readonly SampleSource decoded;
    private readonly FlacMend mend;
    private readonly LostSound lost;

    /// <param name="decoded">Of the copy; disposed with this.</param>
    /// <param name="mend">The copy and what is missing.</param>
    /// <param name="log">Gets what is missing.</param>
    public MendedFlacSource(SampleSource decoded, FlacMend mend, ProblemLog log)
    {
        (this.decoded, this.mend, lost) = (decoded, mend, new LostSound(log));
        foreach (var (at, length) in mend.Lost) lost.Add(at, length);
    }

    public override int Channels => decoded.Channels;

    public override int Rate => decoded.Rate;

    public override IReadOnlyList<LostSpan> Lost => lost.Spans;

    public override bool MayLoseSomewhere => decoded.MayLoseSomewhere;

    public override bool IsLostSomewhere => decoded.IsLostSomewhere;

    public override int Read(Span<float> interleaved)
    {
        var read = decoded.Read(interleaved);
        if (read == 0) lost.Tell(Rate);
        return read;
    }

    public override void Dispose()
    {
        decoded.Dispose();
        File.Delete(mend.Path);
        base.Dispose();
    }
}
