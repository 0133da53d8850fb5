using System.Text;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Midi;

/// <summary>What a track holds at a time: a channel message or a meta event.</summary>
/// <param name="Tick">From the start of the track.</param>
/// <param name="Status">Kind and channel; 0xFF for a meta event.</param>
/// <param name="First">First data byte; the type of a meta event.</param>
/// <param name="Second">Second data byte; 0 where the message has one.</param>
/// <param name="Data">Of a meta event.</param>
internal readonly record struct MidiEvent(long Tick, byte Status, byte First, byte Second, ReadOnlyMemory<byte> Data)
{
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    public bool IsMeta(byte type) => Status == 0xFF && First == type;

    public int Channel => Status & 0x0F;

    public bool IsNoteOn => (Status & 0xF0) == 0x90 && Second > 0;

    public bool IsNoteOff => (Status & 0xF0) == 0x80 || ((Status & 0xF0) == 0x90 && Second == 0);

    /// <summary>The text of a meta event: UTF-8, else ISO 8859-1 (the standard names ASCII only).</summary>
    public string Text
    {
        get
        {
            try
            {
                return OneLine.Of(Strict.GetString(Data.Span).Replace('\0', ' '));
            }
            catch (DecoderFallbackException)
            {
                return OneLine.Of(Encoding.Latin1.GetString(Data.Span).Replace('\0', ' '));
            }
        }
    }
}

/// <summary>Types of meta events (Standard MIDI Files 1.0, "Meta-Events").</summary>
internal static class MetaType
{
    public const byte Copyright = 0x02;
    public const byte Name = 0x03;
    public const byte Lyric = 0x05;
    public const byte End = 0x2F;
    public const byte Tempo = 0x51;
    public const byte Meter = 0x58;
    public const byte Key = 0x59;
}

/// <summary>A file's tracks before they are music.</summary>
/// <param name="Format">0: one track for all channels; 1: tracks that sound together.</param>
/// <param name="TicksPerQuarter">1 to 32,767.</param>
/// <param name="Tracks">In file order.</param>
internal sealed record MidiTracks(int Format, int TicksPerQuarter, IReadOnlyList<IReadOnlyList<MidiEvent>> Tracks);
