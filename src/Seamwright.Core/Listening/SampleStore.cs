namespace Seamwright.Core.Listening;

/// <summary>A long sound in ten bits a sample: an hour at 16 kHz takes 74 MB.</summary>
/// <remarks>Blocks of 128 samples share one scale, so the noise of rounding lies 65 dB below the loudest sample within 8 ms, however soft
/// the recording is there.</remarks>
internal sealed class SampleStore
{
    private const int Block = 128;
    private const int PackedBlock = Block * 5 / 4;
    private const int BlocksAChunk = 4096;
    private const int Largest = 511;

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

    /// <summary>Forgets everything: what is not needed any more need not wait for its owner's end. The memory of a long sound is given back at
    /// once, before as much is asked for elsewhere.</summary>
    public void Clear()
    {
        const long Long = 600 * FinePitch.Rate;
        var much = Length >= Long;
        chunks.Clear();
        (openCount, closed, Length) = (0, 0, 0);
        if (much) GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
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
        for (int i = 0, k = 0; i < samples.Length; i += 4, k += 5)
        {
            var low = stored[k] | (stored[k + 1] << 8) | (stored[k + 2] << 16) | (stored[k + 3] << 24);
            samples[i] = ((low << 22) >> 22) * scale;
            samples[i + 1] = ((low << 12) >> 22) * scale;
            samples[i + 2] = ((low << 2) >> 22) * scale;
            samples[i + 3] = (((stored[k + 4] << 24) >> 22) | ((low >> 30) & 3)) * scale;
        }
    }

    [System.Runtime.CompilerServices.MethodImpl(System.Runtime.CompilerServices.MethodImplOptions.AggressiveOptimization)]
    private static void Pack(ReadOnlySpan<float> samples, Span<byte> stored, float scale)
    {
        for (int i = 0, k = 0; i < samples.Length; i += 4, k += 5)
        {
            var low = Rounded(samples[i], scale) | (Rounded(samples[i + 1], scale) << 10) | (Rounded(samples[i + 2], scale) << 20);
            var last = Rounded(samples[i + 3], scale);
            low |= last << 30;
            (stored[k], stored[k + 1], stored[k + 2], stored[k + 3], stored[k + 4]) = ((byte)low, (byte)(low >> 8), (byte)(low >> 16), (byte)(low >> 24), (byte)(last >> 2));
        }
    }

    private static int Rounded(float sample, float scale) => (int)MathF.Round(sample / scale) & 0x3FF;

    /// <summary>Puts other samples in the place of a stretch that was appended.</summary>
    /// <param name="from">The beginning of one of its blocks: a multiple of 128.</param>
    /// <param name="samples">Whole blocks, or up to the end of the sound.</param>
    public void Replace(long from, ReadOnlySpan<float> samples)
    {
        for (var block = (int)(from / Block); !samples.IsEmpty; block++)
        {
            var part = samples[..Math.Min(Block, samples.Length)];
            if (block == closed) part.CopyTo(open);
            else Store(block, part);
            samples = samples[part.Length..];
        }
    }

    private void Close()
    {
        if (closed % BlocksAChunk == 0) chunks.Add((new byte[BlocksAChunk * PackedBlock], new float[BlocksAChunk]));
        Store(closed, open);
        closed++;
        openCount = 0;
    }

    private void Store(int block, ReadOnlySpan<float> samples)
    {
        var most = 1e-9f;
        foreach (var x in samples) most = Math.Max(most, Math.Abs(x));
        var (packed, scales) = chunks[block / BlocksAChunk];
        var at = block % BlocksAChunk;
        scales[at] = most / Largest;
        Pack(samples, packed.AsSpan(at * PackedBlock, PackedBlock), most / Largest);
    }
}
