using System.Buffers.Binary;
using NAudio.Codecs;
using NAudio.Wave;

namespace Seamwright.Audio.Decoding;

/// <summary>The samples of a WAV file, block by block.</summary>
internal sealed class WavSource : SampleSource
{
    private const int BlockFrames = 4096;

    private readonly Stream file;
    private readonly WavLayout layout;
    private readonly WaveFormat coding;
    private readonly byte[] block;
    private long frame;

    /// <param name="file">Seekable; not closed.</param>
    /// <param name="layout">Found in this file.</param>
    public WavSource(Stream file, WavLayout layout)
    {
        this.file = file;
        this.layout = layout;
        block = new byte[BlockFrames * layout.BlockAlign];
        coding = layout.Samples == WavSamples.Float
            ? WaveFormat.CreateCustomFormat(WaveFormatEncoding.IeeeFloat, layout.Rate, layout.Channels, layout.Rate * layout.BlockAlign, layout.BlockAlign, layout.Bits)
            : new WaveFormat(layout.Rate, layout.Bits, layout.Channels);
        file.Position = layout.DataStart;
    }

    public override int Channels => layout.Channels;

    public override int Rate => layout.Rate;

    public override float FullScale => layout switch
    {
        // The largest steps of G.711 are 32256 and 32124.
        { Samples: WavSamples.ALaw or WavSamples.MuLaw } => 0.975f,
        { Bits: 8 } => 0.99f,
        _ => base.FullScale,
    };

    // The package turns every sample format into floats of ±1; the commonest is turned here, without a copy between.
    public override int Read(Span<float> interleaved)
    {
        var frames = (int)Math.Min(Math.Min(BlockFrames, interleaved.Length / Channels), layout.Frames - frame);
        var bytes = file.ReadAtLeast(block.AsSpan(0, frames * layout.BlockAlign), frames * layout.BlockAlign, throwOnEndOfStream: false);
        frames = bytes / layout.BlockAlign;
        if (frames == 0) return 0;
        frame += frames;
        if (layout.Samples is WavSamples.ALaw or WavSamples.MuLaw) return Expand(interleaved[..(frames * Channels)]);
        if (layout is { Samples: WavSamples.Integer, Bits: 16 }) return Scale(interleaved[..(frames * Channels)]);
        using var raw = new RawSourceWaveStream(block, 0, frames * layout.BlockAlign, coding);
        return raw.ToSampleProvider().Read(interleaved[..(frames * Channels)]);
    }

    private int Scale(Span<float> samples)
    {
        ReadOnlySpan<byte> bytes = block;
        for (var i = 0; i < samples.Length; i++) samples[i] = BinaryPrimitives.ReadInt16LittleEndian(bytes[(2 * i)..]) / 32768f;
        return samples.Length;
    }

    private int Expand(Span<float> samples)
    {
        for (var i = 0; i < samples.Length; i++)
            samples[i] = (layout.Samples == WavSamples.ALaw ? ALawDecoder.ALawToLinearSample(block[i]) : MuLawDecoder.MuLawToLinearSample(block[i])) / 32768f;
        return samples.Length;
    }
}
