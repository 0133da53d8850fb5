using System.Buffers.Binary;

namespace Seamwright.Core.Scores.Midi;

/// <summary>The bytes of one track, and the file around it.</summary>
internal sealed class MidiTrackWriter
{
    private readonly List<(long Tick, int Order, byte[] Bytes)> events = [];

    /// <summary>A channel message; of those at one tick a note that ends comes before one that begins.</summary>
    public void Message(long tick, params byte[] message) => events.Add((tick, (message[0] & 0xF0) switch { 0x80 => 1, 0x90 => 2, _ => 0 }, message));

    /// <summary>A meta event; it comes before the notes of its tick.</summary>
    public void Meta(long tick, byte type, byte[] data) => events.Add((tick, 0, [0xFF, type, .. Number(data.Length), .. data]));

    /// <summary>A file of format 0 with this track.</summary>
    /// <param name="ticksPerQuarter">1 to 32,767.</param>
    /// <param name="track">Its events.</param>
    public static byte[] File(int ticksPerQuarter, MidiTrackWriter track)
    {
        var body = track.Body();
        var bytes = new byte[14 + 8 + body.Length];
        "MThd"u8.CopyTo(bytes);
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(4), 6);
        BinaryPrimitives.WriteUInt16BigEndian(bytes.AsSpan(10), 1);
        BinaryPrimitives.WriteUInt16BigEndian(bytes.AsSpan(12), (ushort)ticksPerQuarter);
        "MTrk"u8.CopyTo(bytes.AsSpan(14));
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(18), (uint)body.Length);
        body.CopyTo(bytes.AsSpan(22));
        return bytes;
    }

    private byte[] Body()
    {
        var body = new List<byte>();
        var at = 0L;
        foreach (var (tick, _, bytes) in events.OrderBy(e => e.Tick).ThenBy(e => e.Order))
        {
            body.AddRange(Number((int)Math.Min(tick - at, 0x0FFFFFFF)));
            body.AddRange(bytes);
            at = tick;
        }

        body.AddRange([0, 0xFF, MetaType.End, 0]);
        return [.. body];
    }

    // Seven bits in a byte, the highest first.
    private static byte[] Number(int value)
    {
        var bytes = new List<byte> { (byte)(value & 0x7F) };
        for (value >>= 7; value > 0; value >>= 7) bytes.Insert(0, (byte)((value & 0x7F) | 0x80));
        return [.. bytes];
    }
}
