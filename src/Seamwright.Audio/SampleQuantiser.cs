using System.Buffers.Binary;
using Seamwright.Core.Sound;

namespace Seamwright.Audio;

/// <summary>Turns samples into the bytes of a format, little end first.</summary>
/// <param name="format">Integers get triangular dither and end at full scale.</param>
/// <param name="seed">Of the dither.</param>
internal sealed class SampleQuantiser(WavFormat format, uint seed)
{
    private SeededNoise dither = new(seed);

    /// <summary>Of one sample.</summary>
    public int Bytes { get; } = format switch { WavFormat.Pcm16 => 2, WavFormat.Pcm24 => 3, _ => 4 };

    /// <param name="samples">Full scale is ±1.</param>
    /// <param name="bytes"><see cref="Bytes"/> for each sample.</param>
    public void Put(ReadOnlySpan<float> samples, Span<byte> bytes)
    {
        for (var i = 0; i < samples.Length; i++) Put(samples[i], bytes.Slice(i * Bytes, Bytes));
    }

    private void Put(float sample, Span<byte> place)
    {
        switch (format)
        {
            case WavFormat.Pcm16:
                BinaryPrimitives.WriteInt16LittleEndian(place, (short)Quantised(sample, 32768));
                break;
            case WavFormat.Pcm24:
                var value = Quantised(sample, 8388608);
                place[0] = (byte)value;
                place[1] = (byte)(value >> 8);
                place[2] = (byte)(value >> 16);
                break;
            default:
                BinaryPrimitives.WriteSingleLittleEndian(place, sample);
                break;
        }
    }

    // Triangular dither of ±1 step makes the rounding error independent of the sound (Lipshitz, Wannamaker and Vanderkooy,
    // "Quantization and dither", J. Audio Eng. Soc. 40 (1992) 355–375).
    private int Quantised(float sample, int scale)
    {
        var wanted = float.IsFinite(sample) ? Math.Clamp(sample, -1, 1) * (double)scale : 0;
        var rounded = Math.Round(wanted + dither.Triangular());
        return (int)Math.Clamp(rounded, -scale, scale - 1);
    }
}
