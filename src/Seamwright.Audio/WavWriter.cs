using System.Buffers.Binary;
using Seamwright.Core.Sound;

namespace Seamwright.Audio;

/// <summary>Writes mono WAV files front to back.</summary>
internal static class WavWriter
{
    public static void Write(Stream output, ReadOnlySpan<float> samples, int rate, WavFormat format, SeededNoise dither)
    {
        var bytes = format switch { WavFormat.Pcm16 => 2, WavFormat.Pcm24 => 3, _ => 4 };
        var length = (long)samples.Length * bytes;
        if (length > int.MaxValue) throw new ArgumentException($"{samples.Length} samples do not fit into a WAV file.", nameof(samples));
        WriteHeader(output, rate, bytes, format == WavFormat.Float32, (int)length);
        var block = new byte[4096 * bytes];
        for (var at = 0; at < samples.Length;)
        {
            var part = samples.Slice(at, Math.Min(4096, samples.Length - at));
            for (var i = 0; i < part.Length; i++) Put(block.AsSpan(i * bytes, bytes), part[i], format, ref dither);
            output.Write(block, 0, part.Length * bytes);
            at += part.Length;
        }

        if (length % 2 == 1) output.WriteByte(0);
    }

    private static void Put(Span<byte> place, float sample, WavFormat format, ref SeededNoise dither)
    {
        switch (format)
        {
            case WavFormat.Pcm16:
                BinaryPrimitives.WriteInt16LittleEndian(place, (short)Quantised(sample, 32768, ref dither));
                break;
            case WavFormat.Pcm24:
                var value = Quantised(sample, 8388608, ref dither);
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
    private static int Quantised(float sample, int scale, ref SeededNoise dither)
    {
        var wanted = float.IsFinite(sample) ? Math.Clamp(sample, -1, 1) * (double)scale : 0;
        var rounded = Math.Round(wanted + dither.Triangular());
        return (int)Math.Clamp(rounded, -scale, scale - 1);
    }

    private static void WriteHeader(Stream output, int rate, int bytes, bool isFloat, int length)
    {
        // A float file carries an extension size and a fact chunk, as its specification asks.
        var formatSize = isFloat ? 18 : 16;
        var factSize = isFloat ? 12 : 0;
        Span<byte> h = stackalloc byte[12 + 8 + formatSize + factSize + 8];
        h.Clear();
        "RIFF"u8.CopyTo(h);
        BinaryPrimitives.WriteUInt32LittleEndian(h[4..], (uint)(h.Length - 8 + length + (length % 2)));
        "WAVEfmt "u8.CopyTo(h[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(h[16..], formatSize);
        BinaryPrimitives.WriteInt16LittleEndian(h[20..], (short)(isFloat ? 3 : 1));
        BinaryPrimitives.WriteInt16LittleEndian(h[22..], 1);
        BinaryPrimitives.WriteInt32LittleEndian(h[24..], rate);
        BinaryPrimitives.WriteInt32LittleEndian(h[28..], rate * bytes);
        BinaryPrimitives.WriteInt16LittleEndian(h[32..], (short)bytes);
        BinaryPrimitives.WriteInt16LittleEndian(h[34..], (short)(bytes * 8));
        var at = 20 + formatSize;
        if (isFloat)
        {
            "fact"u8.CopyTo(h[at..]);
            BinaryPrimitives.WriteInt32LittleEndian(h[(at + 4)..], 4);
            BinaryPrimitives.WriteInt32LittleEndian(h[(at + 8)..], length / 4);
            at += 12;
        }

        "data"u8.CopyTo(h[at..]);
        BinaryPrimitives.WriteInt32LittleEndian(h[(at + 4)..], length);
        output.Write(h);
    }
}
