using System.Numerics;
using System.Text;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>Writes a played line as a Standard MIDI File of format 0.</summary>
/// <remarks><para>Repeats are unfolded. Pitches are at concert pitch on channel 1 with the General MIDI trombone. A slurred note lasts until
/// the next begins; one that another follows without a slur is lifted a sixteenth of its length early, at most a 128th note. Dynamics are
/// velocities by the scale of the abc music standard 2.1, section 4.14 (<c>mf</c> 90 before the first); an accent adds 10.</para>
/// <para>A fermata is a slower last quarter note. A bar shorter or longer than its meter, an upbeat for instance, has its length as its meter
/// where that can be written. What <see cref="MidiReader"/> reads back has the same pitches, starts and lengths.</para>
/// <para>Source: MIDI Manufacturers Association, Standard MIDI Files 1.0 (RP-001).</para></remarks>
public static class MidiWriter
{
    private const int UsualTicks = 480;
    private const int MostTicks = 32_767;
    private const byte Trombone = 57;

    private static readonly Dictionary<string, int> Velocities = new()
    {
        ["pppp"] = 30,
        ["ppp"] = 30,
        ["pp"] = 45,
        ["p"] = 60,
        ["mp"] = 75,
        ["mf"] = 90,
        ["f"] = 105,
        ["ff"] = 120,
        ["fff"] = 127,
        ["ffff"] = 127,
    };

    /// <summary>Writes a line.</summary>
    /// <param name="line">As it is played.</param>
    /// <param name="content">Takes the file; stays open.</param>
    public static void Write(Line line, Stream content)
    {
        var ticks = TicksPerQuarter(line);
        var track = new MidiTrackWriter();
        if (line.Title.Length > 0) track.Meta(0, MetaType.Name, Encoding.UTF8.GetBytes(line.Title));
        track.Message(0, 0xC0, Trombone);
        foreach (var (at, bar) in MeterChanges(line)) track.Meta(Tick(at, ticks), MetaType.Meter, MeterData(bar));
        foreach (var bar in line.Bars.Where((b, i) => i == 0 || b.Key != line.Bars[i - 1].Key))
            track.Meta(Tick(bar.Start, ticks), MetaType.Key, [(byte)bar.Key.Fifths, (byte)(bar.Key.Mode == KeyMode.Minor ? 1 : 0)]);
        foreach (var (at, tempo) in MidiTempos.Of(line)) track.Meta(Tick(at, ticks), MetaType.Tempo, TempoData(tempo));
        for (var i = 0; i < line.Notes.Length; i++) WriteNote(track, line, i, ticks);
        content.Write(MidiTrackWriter.File(ticks, track));
    }

    private static void WriteNote(MidiTrackWriter track, Line line, int i, int ticks)
    {
        var note = line.Notes[i];
        var (on, off) = (Tick(note.Start, ticks), Math.Max(Tick(note.Start, ticks) + 1, Tick(note.End, ticks)));
        var next = i + 1 < line.Notes.Length ? line.Notes[i + 1] : null;
        if (next is not null && next.Start == note.End && !note.SlurredToNext) off -= Math.Min((off - on) / 16, ticks / 32);
        var key = (byte)Math.Clamp(note.Pitch.Midi, 0, 127);
        track.Message(on, 0x90, key, (byte)Math.Clamp(Velocity(note), 1, 127));
        track.Message(off, 0x80, key, 64);
    }

    private static int Velocity(PlayedNote note) =>
        Velocities.GetValueOrDefault(note.Dynamic, 90) + ((note.Articulations & (Articulations.Accent | Articulations.StrongAccent)) != 0 ? 10 : 0);

    // A bar that is not as long as its meter says is written in a meter of its own, and the next one again in the right one.
    private static IEnumerable<(Beats At, Meter Meter)> MeterChanges(Line line)
    {
        Meter? before = null;
        foreach (var bar in line.Bars)
        {
            var meter = bar.Length == bar.Meter.BarLength ? bar.Meter : Fitting(bar.Length) ?? bar.Meter;
            if (before is not { } b || (b.Beats, b.BeatUnit) != (meter.Beats, meter.BeatUnit)) yield return (bar.Start, meter);
            before = meter;
        }
    }

    private static Meter? Fitting(Beats length)
    {
        var unit = 4 * length.Denominator;
        return length > Beats.Zero && unit.IsPowerOfTwo && unit <= 64 && length.Numerator <= 64 ? new Meter((int)length.Numerator, (int)unit) : null;
    }

    // Clocks in a click: 24 in a quarter note.
    private static byte[] MeterData(Meter meter) =>
        [(byte)meter.Beats, (byte)BitOperations.Log2((uint)meter.BeatUnit), (byte)Math.Clamp(Pulses.Of(meter)[0].Length.ToDouble() * 24, 1, 255), 8];

    private static byte[] TempoData(double quartersPerMinute)
    {
        var microseconds = (int)Math.Clamp(Math.Round(60e6 / quartersPerMinute), 1, 0xFFFFFF);
        return [(byte)(microseconds >> 16), (byte)(microseconds >> 8), (byte)microseconds];
    }

    private static long Tick(Beats at, int ticks) => (long)(((2 * at.Numerator * ticks) + at.Denominator) / (2 * at.Denominator));

    // Fine enough for every note value of the line, where the format can hold that.
    private static int TicksPerQuarter(Line line)
    {
        var common = new BigInteger(UsualTicks);
        foreach (var d in line.Notes.SelectMany(n => new[] { n.Start.Denominator, n.Length.Denominator }).Distinct())
        {
            var next = common / BigInteger.GreatestCommonDivisor(common, d) * d;
            if (next <= MostTicks) common = next;
        }

        return (int)common;
    }
}
