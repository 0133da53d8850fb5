namespace Seamwright.Core.Listening;

/// <summary>A long sound in a byte and a half a sample: an hour at 16 kHz takes 88 MB.</summary>
/// <remarks>Blocks of 128 samples share one scale, so rounding lies 66 dB below the loudest sample within 8 ms, however soft the
/// recording is there.</remarks>
internal sealed class SampleStore
{
    private const int Block = 128;
    private const int PackedBlock = Block * 3 / 2;
    private const int BlocksAChunk = 4096;
    private const int Largest = 2047;

    private readonly List<(byte[] Packed, float[] Scales)> chunks = [];
    private readonly float[] open = new float[Block];
    private readonly float[] unpacked = new float[Block];
    private int openCount;
    private int closed;

    public long Length { get; private set; }

    public void Append(ReadOnlySpan<float> samples)
    {
        while (!samples.IsEmpty)
        {
            var take = Math.Min(samples.Length, Block - openCount);
            samples[..take].CopyTo(open.AsSpan(openCount));
            openCount += take;
            Length += take;
            samples = samples[take..];
            if (openCount == Block) Close();
        }
    }

    /// <summary>Copies a stretch; outside the sound is silence.</summary>
    public void CopyTo(long from, Span<float> target)
    {
        target.Clear();
        var at = Math.Max(0, from);
        var end = Math.Min(Length, from + target.Length);
        while (at < end)
        {
            var block = (int)(at / Block);
            var offset = (int)(at % Block);
            var take = (int)Math.Min(Block - offset, end - at);
            Read(block).Slice(offset, take).CopyTo(target[(int)(at - from)..]);
            at += take;
        }
    }

    /// <summary>Forgets everything: what is not needed any more need not wait for its owner's end.</summary>
    public void Clear()
    {
        chunks.Clear();
        (openCount, closed, Length) = (0, 0, 0);
    }

    private ReadOnlySpan<float> Read(int block)
    {
        if (block == closed) return open;
        var (packed, scales) = chunks[block / BlocksAChunk];
        var stored = packed.AsSpan(block % BlocksAChunk * PackedBlock, PackedBlock);
        Unpack(stored, unpacked, scales[block % BlocksAChunk]);
        return unpacked;
    }

    [System.Runtime.CompilerServices.MethodImpl(System.Runtime.CompilerServices.MethodImplOptions.AggressiveOptimization)]
    private static void Unpack(ReadOnlySpan<byte> stored, Span<float> samples, float scale)
    {
        for (int i = 0, k = 0; i < samples.Length; i += 2, k += 3)
        {
            var both = stored[k] | (stored[k + 1] << 8) | (stored[k + 2] << 16);
            samples[i] = ((both << 20) >> 20) * scale;
            samples[i + 1] = ((both << 8) >> 20) * scale;
        }
    }

    [System.Runtime.CompilerServices.MethodImpl(System.Runtime.CompilerServices.MethodImplOptions.AggressiveOptimization)]
    private static void Pack(ReadOnlySpan<float> samples, Span<byte> stored, float scale)
    {
        for (int i = 0, k = 0; i < samples.Length; i += 2, k += 3)
        {
            var a = (int)MathF.Round(samples[i] / scale);
            var b = (int)MathF.Round(samples[i + 1] / scale);
            var both = (a & 0xFFF) | (b << 12);
            (stored[k], stored[k + 1], stored[k + 2]) = ((byte)both, (byte)(both >> 8), (byte)(both >> 16));
        }
    }

    private void Close()
    {
        if (closed % BlocksAChunk == 0) chunks.Add((new byte[BlocksAChunk * PackedBlock], new float[BlocksAChunk]));
        var most = 1e-9f;
        foreach (var x in open) most = Math.Max(most, Math.Abs(x));
        var (packed, scales) = chunks[^1];
        scales[closed % BlocksAChunk] = most / Largest;
        Pack(open, packed.AsSpan(closed % BlocksAChunk * PackedBlock, PackedBlock), most / Largest);
        closed++;
        openCount = 0;
    }
}
