using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.Midi;
using Seamwright.Tests.Scores.Abc;
using static Seamwright.Tests.Scores.Midi.MidiLines;

namespace Seamwright.Tests.Scores.Midi;

public class MidiReaderTests
{
    // The two files that the standard works out byte by byte (Standard MIDI Files 1.0, "Program Fragments and Example MIDI Files").
    private const string Format0 =
        "4D546864 00000006 0000 0001 0060 4D54726B 0000003B 00FF580404021808 00FF510307A120 00C005 00C12E 00C246 00923060 003C60 60914340 60904C20 8140823040 003C40 00814340 00804C40 00FF2F00";

    private const string Format1 =
        """
        4D546864 00000006 0001 0004 0060
        4D54726B 00000014 00FF580404021808 00FF510307A120 8300FF2F00
        4D54726B 00000010 00C005 8140904C20 81404C00 00FF2F00
        4D54726B 0000000F 00C12E 60914340 82204300 00FF2F00
        4D54726B 00000015 00C246 00923060 003C60 83003000 003C00 00FF2F00
        """;

    [Fact]
    public void The_standards_example_of_format_0_reads()
    {
        var outcome = Read(Bytes(Format0));

        Assert.Equal(["r 2, E5 2", "r 1, G4 3", "C4 4"], outcome.Value.Parts.Select(Tunes.Notes));
        Assert.Equal(["Track 1, channel 1", "Track 1, channel 2", "Track 1, channel 3"], outcome.Value.Parts.Select(p => p.Name));
        Assert.All(outcome.Value.Parts, p => Assert.Equal((new Meter(4, 4), 120.0), (p.Bars[0].Meter, p.Bars[0].Tempos.Single().QuartersPerMinute!.Value)));
        Assert.Contains(outcome.Problems, p => p.What.StartsWith("A chord stands here", StringComparison.Ordinal) && p.Where == "Track 1, channel 3, bar 1 beat 1");
    }

    [Fact]
    public void The_standards_example_of_format_1_holds_the_same_music()
    {
        var parts = Read(Bytes(Format1)).Value.Parts;

        Assert.Equal(Read(Bytes(Format0)).Value.Parts.Select(Tunes.Notes), parts.Select(Tunes.Notes));
        Assert.Equal(["Track 2", "Track 3", "Track 4"], parts.Select(p => p.Name));
    }

    [Fact]
    public void Title_rights_names_keys_meters_and_words_read()
    {
        var track = new MidiTrackWriter();
        track.Meta(0, MetaType.Name, "A Tune"u8.ToArray());
        track.Meta(0, MetaType.Copyright, "CC0"u8.ToArray());
        track.Meta(0, MetaType.Meter, [3, 2, 24, 8]);
        track.Meta(0, MetaType.Key, [0xFD, 0]);
        track.Meta(0, MetaType.Lyric, "ho-"u8.ToArray());
        track.Meta(3 * 480, MetaType.Meter, [6, 3, 36, 8]);
        track.Meta(3 * 480, MetaType.Key, [2, 1]);
        track.Message(0, 0x90, 56, 90);
        track.Message(3 * 480, 0x90, 56, 0);
        track.Message(3 * 480, 0x90, 61, 90);
        track.Message(6 * 480, 0x90, 61, 0);

        var score = Read(MidiTrackWriter.File(480, track)).Value;

        var bars = score.Parts[0].Bars;
        Assert.Equal(("A Tune", "A Tune", "CC0", "Ab3 3, C#4 3"), (score.Title, score.Parts[0].Name, score.Rights, Tunes.Notes(score.Parts[0])));
        Assert.Equal([(new Meter(3, 4), new KeySignature(-3)), (new Meter(6, 8), new KeySignature(2, KeyMode.Minor))], bars.Select(b => (b.Meter, b.Key)));
        Assert.Equal("ho-|", Tunes.Lyrics(score.Parts[0]));
    }

    [Fact]
    public void Notes_that_overlap_as_in_a_legato_become_one_line_without_a_word()
    {
        var outcome = Read(Played((60, 0, 540), (62, 480, 500), (64, 960, 480)));

        Assert.StartsWith("C4 1, D4 1, E4 1,", Tunes.Notes(outcome.Value.Parts[0]), StringComparison.Ordinal);
        Assert.DoesNotContain(outcome.Problems, p => p.Severity == Severity.Warning);
    }

    [Fact]
    public void A_note_that_goes_on_under_the_next_is_cut_and_said() =>
        Assert.Contains(Read(Played((60, 0, 1920), (64, 480, 480))).Problems, p => p.What.StartsWith("A note still sounds", StringComparison.Ordinal) && p.Where == "Track 1, bar 1 beat 2");

    [Fact]
    public void Percussion_is_left_out_and_said()
    {
        var track = new MidiTrackWriter();
        track.Message(0, 0x99, 36, 90);
        track.Message(480, 0x89, 36, 0);
        Assert.Contains("no notes", Assert.Single(Read(MidiTrackWriter.File(480, track)).Problems, p => p.Severity == Severity.Error).What, StringComparison.Ordinal);

        track.Message(0, 0x90, 48, 90);
        track.Message(480, 0x80, 48, 0);
        var outcome = Read(MidiTrackWriter.File(480, track));
        Assert.Single(outcome.Value.Parts);
        Assert.Contains(outcome.Problems, p => p.What.StartsWith("Channel 10 is percussion", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(4)]
    [InlineData(20)]
    [InlineData(97)]
    public void Notes_lifted_early_are_not_followed_by_crumbs_of_rest(int ticks) => Assert.Equal("1 2 1 4",
        Tunes.Lengths(MidiLines.Read(Played((60, 0, 480 - ticks), (62, 480, 960 - (2 * ticks)), (64, 1440, 470), (65, 1920, 1920)))));

    [Fact]
    public void Written_rests_are_kept() => Assert.Equal("C4 3/4, r 1/4, D4 1/2, r 1/2, E4 2", Tunes.Notes(MidiLines.Read(Played((60, 0, 360), (62, 480, 240), (64, 960, 960)))));

    [Fact]
    public void Playing_by_hand_becomes_sixteenths_or_triplets_by_the_beat()
    {
        // Four sixteenths, three triplets and a half note, each some way off.
        var part = MidiLines.Read(Played((60, 3, 110), (62, 133, 100), (64, 231, 115), (65, 371, 100), (67, 477, 150), (69, 651, 150), (71, 793, 160), (72, 967, 943)));

        Assert.Equal("1/4 1/4 1/4 1/4 1/3 1/3 1/3 2", Tunes.Lengths(part));
        Assert.Equal([TupletEdge.Start, TupletEdge.None, TupletEdge.Stop], part.Bars[0].Events.Skip(4).Take(3).Select(e => e.TupletEdge));
    }

    [Fact]
    public void A_note_over_a_bar_line_is_tied() => Assert.Equal("r 2, r 1, C4 1-, C4 1, r 1, r 2", Tunes.Notes(MidiLines.Read(Played((60, 1440, 960)))));

    [Theory] // On the way up raised, on the way down lowered; else by the key.
    [InlineData(0, false, "60 61 62", "C4 C#4 D4")]
    [InlineData(0, false, "62 61 60", "D4 Db4 C4")]
    [InlineData(0, false, "60 66 60", "C4 F#4 C4")]
    [InlineData(0, false, "60 70 60", "C4 Bb4 C4")]
    [InlineData(-3, false, "63 68 70", "Eb4 Ab4 Bb4")]
    [InlineData(-3, true, "60 71 60", "C4 B4 C4")]
    [InlineData(4, false, "64 68 71", "E4 G#4 B4")]
    [InlineData(0, true, "69 68 64", "A4 G#4 E4")]
    [InlineData(-6, false, "59 66 61", "Cb4 Gb4 Db4")]
    [InlineData(7, false, "61 72 61", "C#4 B#4 C#4")]
    public void Notes_are_spelled_by_key_and_line(int fifths, bool minor, string numbers, string names)
    {
        var line = numbers.Split(' ').Select(int.Parse).ToList();
        var key = new KeySignature(fifths, minor ? KeyMode.Minor : KeyMode.Major);

        Assert.Equal(names, string.Join(' ', line.Select((n, i) => Spelling.Of(n, i + 1 < line.Count ? line[i + 1] : null, key))));
    }

    [Fact]
    public void Every_note_number_is_spelled_as_its_own_sound_in_every_key()
    {
        foreach (var key in Enumerable.Range(-7, 15).SelectMany(f => new[] { new KeySignature(f), new KeySignature(f, KeyMode.Minor) }))
        {
            for (var midi = 0; midi < 128; midi++)
            {
                foreach (var next in (int?[])[null, midi + 1, midi - 1, midi + 5]) Assert.Equal(midi, Spelling.Of(midi, next, key).Midi);
            }
        }
    }

    [Fact]
    public void Without_a_key_signature_the_fewest_accidentals_decide()
    {
        var outcome = Read(Played((58, 0, 480), (60, 480, 480), (62, 960, 480), (63, 1440, 480), (65, 1920, 480), (67, 2400, 480), (69, 2880, 480), (70, 3360, 480)));

        Assert.Equal(-2, outcome.Value.Parts[0].Bars[0].Key.Fifths);
        Assert.Contains(outcome.Problems, p => p.What.Contains("B♭ major", StringComparison.Ordinal));
    }

    private static Outcome<Score> Read(byte[] bytes) => MidiReader.Read(new MemoryStream(bytes), "tune.mid");

    private static byte[] Bytes(string hex) => Convert.FromHexString(string.Concat(hex.Where(char.IsAsciiHexDigit)));
}
