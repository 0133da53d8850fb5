using Seamwright.Core.Scores;
using Seamwright.Core.Scores.Midi;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Scores.Midi;

/// <summary>Lines made in the test, and their way through a file.</summary>
internal static class MidiLines
{
    // Each adds up to whole quarter notes, so that every quarter note has one grid; a minus is a rest.
    private static readonly string[] Rhythms =
    [
        "1", "2", "3", "1/2 1/2", "1/4 1/4 1/4 1/4", "3/4 1/4", "1/4 3/4", "3/2 1/2", "1/2 1 1/2", "1/3 1/3 1/3", "2/3 1/3", "2/3 2/3 2/3", "1/6 1/6 1/6 1/6 1/6 1/6",
        "1/5 1/5 1/5 1/5 1/5", "1/8 1/8 1/4 1/2", "7/8 1/8", "-1", "-1/2 1/2", "1/2 -1/2", "1/3 -1/3 1/3", "3/4 -1/4", "1/5 -1/5 3/5", "4/7 4/7 4/7 4/7 4/7 4/7 4/7", "5", "9/2 1/2",
    ];

    /// <summary>A line of 4/4 out of a seed.</summary>
    public static Line Invented(int seed)
    {
        var random = new Random(seed);
        var notes = new List<PlayedNote>();
        var (at, pitch) = (Beats.Zero, random.Next(40, 70));
        for (var i = random.Next(1, 30); i > 0; i--)
        {
            foreach (var word in Rhythms[random.Next(Rhythms.Length)].Split(' '))
            {
                var length = Length(word.TrimStart('-'));
                pitch = Math.Clamp(pitch + random.Next(-5, 6), 34, 77);
                if (word[0] != '-') notes.Add(Note(notes.Count, Pitch.FromMidi(pitch), at, length) with { SlurredToNext = random.Next(2) == 0 });
                at += length;
            }
        }

        if (notes.Count == 0) notes.Add(Note(0, Pitch.FromMidi(pitch), at, Beats.Quarter));
        return Of([.. notes], new TempoMap([new TempoMark(Beats.Zero, random.Next(40, 200)), new TempoMark(new Beats(4, 1), random.Next(40, 200))]), seed);
    }

    private static Beats Length(string word) => Beats.TryParse(word, out var length) ? length : throw new FormatException(word);

    public static PlayedNote Note(int index, Pitch pitch, Beats start, Beats length) => new()
    {
        Index = index,
        NoteIds = [$"n{index}"],
        Bar = "1",
        Beat = Beats.Quarter,
        Pitch = pitch,
        Start = start,
        Length = length,
        StartTime = Seconds.Zero,
        Duration = Seconds.Zero,
    };

    public static Line Of(PlayedNote[] notes, TempoMap tempo, int seed = 0) => new()
    {
        Title = $"Tune {seed}",
        Notes = [.. notes],
        Tempo = tempo,
        Bars = [.. Enumerable.Range(0, (int)notes[^1].End.ToDouble() / 4 + 1).Select(i => new PlayedBar($"{i + 1}", new Beats(4 * i, 1), new Beats(4, 1), Meter.CommonTime, 1) { Key = new KeySignature((seed % 9) - 4) })],
    };

    public static byte[] Written(Line line)
    {
        var content = new MemoryStream();
        MidiWriter.Write(line, content);
        return content.ToArray();
    }

    public static string Notes(Line line) => string.Join(' ', line.Notes.Select(n => $"{n.Pitch.Midi}@{n.Start}+{n.Length}"));

    public static Part Read(byte[] bytes) => MidiReader.Read(new MemoryStream(bytes), "tune.mid").Value.Parts[0];

    /// <summary>A file of format 0 at 480 ticks out of notes: number, tick, and ticks long.</summary>
    public static byte[] Played(params (int Key, long On, long Length)[] keys)
    {
        var track = new MidiTrackWriter();
        foreach (var (key, on, length) in keys)
        {
            track.Message(on, 0x90, (byte)key, 90);
            track.Message(on + length, 0x80, (byte)key, 64);
        }

        return MidiTrackWriter.File(480, track);
    }
}
