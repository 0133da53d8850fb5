using System.Runtime.CompilerServices;
namespace Seamwright.Core.Listening;

/// <summary>A long sound in two bytes a sample: an hour at 16 kHz takes 115 MB.</summary>
/// <remarks>Blocks of 512 samples share one scale, so rounding lies 90 dB below the loudest sample within 32 ms, however soft the
/// recording is.</remarks>
internal sealed class SampleStore
{
    private const int Block = 512;
    private const int BlocksAChunk = 1024;

    private readonly List<short[]> chunks = [];
    private readonly List<float> scales = [];
    private readonly float[] open = new float[Block];
    private int openCount;

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
            Read(block, offset, target.Slice((int)(at - from), take));
            at += take;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Read(int block, int offset, Span<float> target)
    {
        if (block == scales.Count)
        {
            open.AsSpan(offset, target.Length).CopyTo(target);
            return;
        }

        var stored = chunks[block / BlocksAChunk].AsSpan((block % BlocksAChunk * Block) + offset, target.Length);
        var scale = scales[block];
        for (var i = 0; i < target.Length; i++) target[i] = stored[i] * scale;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Close()
    {
        var block = scales.Count;
        if (block % BlocksAChunk == 0) chunks.Add(new short[BlocksAChunk * Block]);
        var most = 1e-9f;
        foreach (var x in open) most = Math.Max(most, Math.Abs(x));
        var scale = most / short.MaxValue;
        scales.Add(scale);
        var target = chunks[^1].AsSpan(block % BlocksAChunk * Block, Block);
        for (var i = 0; i < Block; i++) target[i] = (short)MathF.Round(open[i] / scale);
        openCount = 0;
    }
}
