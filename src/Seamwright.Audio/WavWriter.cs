namespace Seamwright.Audio;

/// <summary>Writes mono WAV files front to back.</summary>
internal static class WavWriter
{
    public static void Write(Stream output, ReadOnlySpan<float> samples, int rate, WavFormat format, uint seed)
    {
        var quantiser = new SampleQuantiser(format, seed);
        var length = (long)samples.Length * quantiser.Bytes;
        if (length > int.MaxValue) throw new ArgumentException($"{samples.Length} samples do not fit into a WAV file.", nameof(samples));
        output.Write(new WavHead(rate, 1, format, []).Of(length));
        var block = new byte[4096 * quantiser.Bytes];
        for (var at = 0; at < samples.Length;)
        {
            var part = samples.Slice(at, Math.Min(4096, samples.Length - at));
            quantiser.Put(part, block);
            output.Write(block, 0, part.Length * quantiser.Bytes);
            at += part.Length;
        }

        if (length % 2 == 1) output.WriteByte(0);
    }
}
