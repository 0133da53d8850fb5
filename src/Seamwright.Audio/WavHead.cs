using System.Buffers.Binary;

namespace Seamwright.Audio;

/// <summary>All of a WAV file that stands before the samples.</summary>
/// <param name="Rate">Hz.</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="Format">Of the samples.</param>
/// <param name="Extra">Whole chunks of even length, to stand before the samples.</param>
public sealed record WavHead(int Rate, int Channels, WavFormat Format, byte[] Extra)
{
    private bool IsFloat => Format == WavFormat.Float32;

    private int Bytes => Format switch { WavFormat.Pcm16 => 2, WavFormat.Pcm24 => 3, _ => 4 };

    /// <summary>How long it is, whatever follows.</summary>
    public int Length => 12 + 8 + (IsFloat ? 18 + 12 : 16) + Extra.Length + 8;

    /// <summary>The most bytes of samples that the sizes can tell.</summary>
    public long MostData => uint.MaxValue - Length - 1L;

    /// <summary>The bytes of the head.</summary>
    /// <param name="data">Bytes of samples, without the one that fills up to an even number.</param>
    public byte[] Of(long data)
    {
        // A float file carries an extension size and a fact chunk, as its specification asks.
        var h = new byte[Length].AsSpan();
        var formatSize = IsFloat ? 18 : 16;
        "RIFF"u8.CopyTo(h);
        BinaryPrimitives.WriteUInt32LittleEndian(h[4..], (uint)(h.Length - 8 + data + (data % 2)));
        "WAVEfmt "u8.CopyTo(h[8..]);
        BinaryPrimitives.WriteInt32LittleEndian(h[16..], formatSize);
        BinaryPrimitives.WriteInt16LittleEndian(h[20..], (short)(IsFloat ? 3 : 1));
        BinaryPrimitives.WriteInt16LittleEndian(h[22..], (short)Channels);
        BinaryPrimitives.WriteInt32LittleEndian(h[24..], Rate);
        BinaryPrimitives.WriteInt32LittleEndian(h[28..], Rate * Bytes * Channels);
        BinaryPrimitives.WriteInt16LittleEndian(h[32..], (short)(Bytes * Channels));
        BinaryPrimitives.WriteInt16LittleEndian(h[34..], (short)(Bytes * 8));
        var at = 20 + formatSize;
        if (IsFloat)
        {
            "fact"u8.CopyTo(h[at..]);
            BinaryPrimitives.WriteInt32LittleEndian(h[(at + 4)..], 4);
            BinaryPrimitives.WriteUInt32LittleEndian(h[(at + 8)..], (uint)(data / (4 * Channels)));
            at += 12;
        }

        Extra.CopyTo(h[at..]);
        at += Extra.Length;
        "data"u8.CopyTo(h[at..]);
        BinaryPrimitives.WriteUInt32LittleEndian(h[(at + 4)..], (uint)data);
        return h.ToArray();
    }
}
