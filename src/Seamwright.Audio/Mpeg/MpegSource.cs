using NLayer;
using Seamwright.Audio.Decoding;
using Seamwright.Core;

namespace Seamwright.Audio.Mpeg;

/// <summary>MPEG audio (MP3), decoded by NLayer frame by frame, in the time of the original.</summary>
/// <remarks>Every frame that stands in the file takes its time, decoded or not, so that damage does not shift what follows. What the
/// encoder put before and after the sound is taken off where the file says how much.</remarks>
internal sealed class MpegSource : SampleSource
{
    private readonly ByteWindow bytes;
    private readonly FrameWalk walk;
    private readonly ProblemLog log;
    private readonly LostSound lost;
    private readonly MpegFrameDecoder decoder = new();
    private readonly FrameBits bits = new();
    private readonly float[] frame = new float[2 * 1152];
    private readonly FrameHeader first;
    private readonly EncoderInfo? info;
    private readonly HeldBack held;
    private readonly bool couldBeExact;
    private long frames, silence;
    private int skip;
    private bool ended;

    private MpegSource(ByteWindow bytes, FrameWalk walk, FrameHeader first, ProblemLog log, bool couldBeExact)
    {
        (this.bytes, this.walk, this.first, this.log, this.couldBeExact) = (bytes, walk, first, log, couldBeExact);
        lost = new LostSound(log);
        info = EncoderInfo.Read(first, bytes.Peek(first.Length));
        if (info is not null) bytes.Skip(first.Length);
        skip = info?.Delay is { } delay ? delay + EncoderInfo.DecoderDelay : 0;
        held = new HeldBack(info?.Delay is null ? 0 : Channels * Math.Max(0, info.Padding - EncoderInfo.DecoderDelay));
    }

    public override int Channels => first.Channels;

    public override int Rate => first.Rate;

    public override IReadOnlyList<LostSpan> Lost => lost.Spans;

    /// <summary>Finds the first frame, or null where there is none.</summary>
    /// <param name="file">At its beginning.</param>
    /// <param name="log">What is odd.</param>
    /// <param name="couldBeExact">Whether the file is whole and only the better decoder is missing.</param>
    public static MpegSource? Open(Stream file, ProblemLog log, bool couldBeExact)
    {
        var bytes = new ByteWindow(file, 1 << 16);
        var walk = new FrameWalk(bytes);
        return walk.Next() is { } first ? new MpegSource(bytes, walk, first, log, couldBeExact) : null;
    }

    public override int Read(Span<float> interleaved)
    {
        while (true)
        {
            var given = held.Take(interleaved);
            if (given > 0 || ended) return given;
            if (silence > 0) PutSilence();
            else if (walk.Next() is { } header) Decode(header);
            else End();
        }
    }

    private void Decode(FrameHeader header)
    {
        if (walk.Skipped > 0 && frames > 0 && Missing(header) is var missing && missing > 0)
        {
            silence = missing;
            lost.Add(Place, missing * first.Samples);
            decoder.Reset();
            return;
        }

        bits.Load(header, bytes.Peek(header.Length));
        bytes.Skip(header.Length);
        Put(header);
        frames++;
    }

    // As many frames as would have filled the gap; one that was skipped in part counts whole.
    private long Missing(FrameHeader header) => Math.Min(1000, (long)Math.Round(walk.Skipped / (double)header.Length));

    private long Place => Math.Max(0, (frames * first.Samples) - (info?.Delay is { } delay ? delay + EncoderInfo.DecoderDelay : 0));

    private void Put(FrameHeader header)
    {
        var count = header.Samples * header.Channels;
        frame.AsSpan(0, count).Clear();
        try
        {
            // After a hole a frame may lean on bytes that were lost with it: then it gives nothing.
            if (decoder.DecodeFrame(bits, frame, 0) == 0 && frames > 0) lost.Add(Place, header.Samples);
        }
        catch (Exception e) when (e is IndexOutOfRangeException or ArgumentException or InvalidOperationException or IOException or NullReferenceException or ArithmeticException)
        {
            frame.AsSpan(0, count).Clear();
            decoder.Reset();
            lost.Add(Place, header.Samples);
        }

        if (header.Channels != Channels) Rearrange(header.Samples);
        Give(header.Samples);
    }

    private void PutSilence()
    {
        frame.AsSpan().Clear();
        Give(first.Samples);
        silence--;
        frames++;
    }

    private void Give(int samples)
    {
        var off = Math.Min(skip, samples);
        skip -= off;
        held.Put(frame.AsSpan(off * Channels, (samples - off) * Channels));
    }

    // A file may change between one and two channels; the first frame decides.
    private void Rearrange(int samples)
    {
        if (Channels == 1)
        {
            for (var i = 0; i < samples; i++) frame[i] = (frame[2 * i] + frame[(2 * i) + 1]) / 2;
        }
        else
        {
            for (var i = samples - 1; i >= 0; i--) frame[2 * i] = frame[(2 * i) + 1] = frame[i];
        }
    }

    private string Care => couldBeExact ? "Judge attacks with care, or install ffmpeg, which decodes this file exactly."
        : lost.Spans.Count > 0 ? "Judge attacks with care. MP3 carries no check sums, so what else is damaged may sound wrong and cannot be told."
        : "Judge attacks with care.";

    // The padding is taken off only where the file ends where its encoder ended it.
    private void End()
    {
        ended = true;
        var whole = info is null || info.Frames == 0 || frames == info.Frames;
        held.End(dropRest: whole && info is not null);
        lost.Tell(Rate);
        var heard = Place / (double)Rate;
        if (info?.SoundFrames(first) is { } promised && frames < info.Frames) log.Say($"breaks off: it promises {promised / (double)Rate:0.00} s and holds {heard:0.00} s.", "What is there is used; copy or record it again for the rest.");
        else if (walk.BrokeOff) log.Say($"breaks off at {heard:0.00} s, in the middle of a frame.", "What is there is used.", Severity.Note);
        log.Say("was decoded by the program's own MP3 decoder, which renders sharp attacks a little differently.", Care, Severity.Note);
    }
}
