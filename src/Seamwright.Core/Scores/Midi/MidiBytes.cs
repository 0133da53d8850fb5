using System.Buffers.Binary;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Midi;

/// <summary>From bytes to tracks of events (Standard MIDI Files 1.0, "Chunks").</summary>
/// <remarks>Chunks of other types are passed over, as the standard asks. A track that is damaged is used up to the damage.</remarks>
internal sealed class MidiBytes
{
    private const int HeaderLength = 14;

    private readonly byte[] bytes;
    private readonly string fileName;
    private readonly ReadLimits limits;
    private readonly ProblemLog log;

    private MidiBytes(byte[] bytes, string fileName, ReadLimits limits, ProblemLog log) =>
        (this.bytes, this.fileName, this.limits, this.log) = (bytes, fileName, limits, log);

    /// <summary>Whether bytes begin like a MIDI file.</summary>
    public static bool LookLikeMidi(ReadOnlySpan<byte> bytes) => bytes.StartsWith("MThd"u8);

    /// <summary>Reads all tracks.</summary>
    /// <exception cref="InvalidDataException">The head of the file cannot be used.</exception>
    /// <exception cref="LimitException">Beyond the limits.</exception>
    public static MidiTracks Read(byte[] bytes, string fileName, ReadLimits limits, ProblemLog log) => new MidiBytes(bytes, fileName, limits, log).Read();

    private MidiTracks Read()
    {
        if (bytes.Length < HeaderLength) throw new InvalidDataException("it ends inside its head.");
        var head = BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(4));
        var format = BinaryPrimitives.ReadUInt16BigEndian(bytes.AsSpan(8));
        if (head < 6) throw new InvalidDataException("its head is too short.");
        if (format > 1) throw new InvalidDataException(format == 2 ? "it holds patterns that do not sound together (format 2)." : $"its format is {format}; formats 0 and 1 are known.");
        var ticks = TicksPerQuarter(BinaryPrimitives.ReadInt16BigEndian(bytes.AsSpan(12)));
        var tracks = new List<IReadOnlyList<MidiEvent>>();
        for (var at = 8L + head; at < bytes.Length; at = ReadChunk(at, tracks))
        {
        }

        return new MidiTracks(format, ticks, tracks);
    }

    // Time code counts seconds, not beats: the standard's own tempo of 120 turns them into quarter notes.
    private int TicksPerQuarter(short division)
    {
        if (division > 0) return division;
        if (division == 0) throw new InvalidDataException("it has no ticks in a quarter note.");
        log.Warn(new Place(fileName), "The file counts seconds, not beats; half a second is taken as a quarter note.", "Export it with a musical tempo.");
        return Math.Max(1, -(sbyte)(division >> 8) * (division & 0xFF) / 2);
    }

    private long ReadChunk(long at, List<IReadOnlyList<MidiEvent>> tracks)
    {
        if (at + 8 > bytes.Length)
        {
            Say(at, "The file ends inside the head of a chunk.");
            return bytes.Length;
        }

        var start = (int)at;
        var end = at + 8 + BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(start + 4));
        if (end > bytes.Length) Say(at, "The file ends before a chunk does; what is there is used.");
        if (bytes.AsSpan(start).StartsWith("MTrk"u8))
        {
            if (tracks.Count >= limits.MostParts) throw new LimitException($"holds more than {limits.MostParts} tracks.");
            tracks.Add(ReadTrack(start + 8, (int)Math.Min(end, bytes.Length)));
        }

        return end;
    }

    private List<MidiEvent> ReadTrack(int at, int end)
    {
        var events = new List<MidiEvent>();
        var (tick, running) = (0L, (byte)0);
        while (at < end)
        {
            var start = at;
            if (Length(ref at, end) is not { } delta || ReadEvent(ref at, end, tick + delta, ref running) is not { } read)
            {
                Say(start, "A track is damaged; what comes after is left out.");
                break;
            }

            tick += delta;
            if (read.IsMeta(MetaType.End)) break;
            if (read.Status == 0) continue;
            if (events.Count >= limits.MostElements) throw new LimitException($"holds more than {limits.MostElements} events.");
            events.Add(read);
        }

        return events;
    }

    // A status of 0 stands for a message that says nothing of the music.
    private MidiEvent? ReadEvent(ref int at, int end, long tick, ref byte running)
    {
        if (at >= end) return null;
        var status = bytes[at];
        if (status == 0xFF) return ReadMeta(ref at, end, tick);
        if (status is 0xF0 or 0xF7) return Skip(ref at, end) ? default(MidiEvent) : null;
        if (status >= 0xF0) return null;
        if (status >= 0x80)
        {
            running = status;
            at++;
        }

        var length = (running & 0xF0) is 0xC0 or 0xD0 ? 1 : 2;
        if (running == 0 || at + length > end || bytes[at] > 127 || bytes[at + length - 1] > 127) return null;
        var (first, second) = (bytes[at], length == 2 ? bytes[at + 1] : (byte)0);
        at += length;
        return (running & 0xF0) is 0x80 or 0x90 ? new MidiEvent(tick, running, first, second, default) : default;
    }

    private MidiEvent? ReadMeta(ref int at, int end, long tick)
    {
        at++;
        if (at >= end) return null;
        var type = bytes[at++];
        if (Length(ref at, end) is not { } length || at + length > end) return null;
        var data = bytes.AsMemory(at, length);
        at += length;
        return new MidiEvent(tick, 0xFF, type, 0, data);
    }

    private bool Skip(ref int at, int end)
    {
        at++;
        if (Length(ref at, end) is not { } length || at + length > end) return false;
        at += length;
        return true;
    }

    // A number of up to 28 bits, seven in a byte, the highest first.
    private int? Length(ref int at, int end)
    {
        var value = 0;
        for (var i = 0; i < 4 && at < end; i++)
        {
            var b = bytes[at++];
            value = (value << 7) | (b & 0x7F);
            if (b < 0x80) return value;
        }

        return null;
    }

    private void Say(long at, string what) => log.Warn(new Place(fileName), what, "Export or copy the file again.", $"byte {at}");
}
