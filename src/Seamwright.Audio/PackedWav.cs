using System.Buffers.Binary;

namespace Seamwright.Audio;

/// <summary>A WAV file whose samples are packed by a codec that we do not decode ourselves.</summary>
/// <param name="Coding">Its name: ADPCM or GSM.</param>
/// <param name="Seconds">How long the file says it is; null where it does not.</param>
internal sealed record PackedWav(string Coding, double? Seconds)
{
    private const int FormatBytes = 64, FactBytes = 4;

    /// <summary>Looks at a seekable file that begins with RIFF or RF64 and WAVE; null where the samples are none of these.</summary>
    public static PackedWav? Find(Stream file)
    {
        var chunks = RiffChunk.Walk(file);
        var format = chunks.FirstOrDefault(c => c.Id == "fmt ")?.Content(file, FormatBytes);
        if (format is null || WavCoding.PackedName(format) is not { } coding) return null;
        var rate = BinaryPrimitives.ReadUInt32LittleEndian(format.AsSpan(4));
        var fact = chunks.FirstOrDefault(c => c.Id == "fact")?.Content(file, FactBytes);

        // RIFF's own count of samples; writers to pipes leave it 0 or full of ones.
        var samples = fact is { Length: FactBytes } ? BinaryPrimitives.ReadUInt32LittleEndian(fact) : 0;
        return new(coding, samples is 0 or uint.MaxValue || rate == 0 ? null : samples / (double)rate);
    }
}
