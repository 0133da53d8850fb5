using CsCheck;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.Midi;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Midi.MidiLines;

namespace Seamwright.Tests.Scores.Midi;

/// <summary>Written files, read again by us and by others, and files that are damaged.</summary>
public class MidiFileTests
{
    [Fact]
    public void What_is_written_reads_back_with_the_same_pitches_starts_and_lengths() => Gen.Int[0, 1_000_000].Sample(seed =>
    {
        var line = Invented(seed);

        var back = Unfolder.Play(MidiLines.Read(Written(line)), "back").Value;

        Assert.Equal(Notes(line), Notes(back));
        Assert.Equal(line.Tempo.At(line.Notes[^1].End).Value, back.Tempo.At(line.Notes[^1].End).Value, 0.01);
        Assert.Equal(line.Bars[0].Key.Fifths, back.Bars[0].Key.Fifths);
    }, iter: 1000);

    [Fact]
    public void Others_read_what_is_written()
    {
        var lines = Enumerable.Range(0, 50).Select(Invented).ToList();

        var others = Outside.Read(midi: lines.Select(Written));

        for (var i = 0; i < lines.Count; i++)
        {
            Assert.Equal(lines[i].Notes.Select(n => $"{n.Pitch.Midi}@{n.Start.ToDouble():0.0000}"), others[i].Tracks[0].Select(n => $"{n[0]}@{n[1]:0.0000}"));
            Assert.Equal((0, lines[i].Title, lines[i].Bars[0].Key.Fifths), (others[i].Format, others[i].Names.Single(), (int)others[i].Keys[0][1]));
            Assert.Equal([0.0, 4, 4], others[i].Meters.Single());
            Assert.Equal(lines[i].Tempo.Marks[0].QuartersPerMinute, others[i].Tempos[0][1], 0.01);
        }
    }

    [Fact]
    public void A_slurred_note_lasts_until_the_next_and_others_are_lifted()
    {
        var notes = new[] { Note(0, Pitch.Parse("C3"), Beats.Zero, Beats.Quarter) with { SlurredToNext = true }, Note(1, Pitch.Parse("D3"), Beats.Quarter, Beats.Quarter), Note(2, Pitch.Parse("E3"), new Beats(2, 1), Beats.Quarter) };

        var others = Outside.Read(midi: [Written(Of(notes, TempoMap.Steady(100)))]);

        Assert.Equal([1, 1 - (1 / 32.0), 1], others[0].Tracks[0].Select(n => n[2]));
    }

    [Fact]
    public void A_fermata_takes_the_time_it_takes_in_playing()
    {
        var tempo = new TempoMap([new TempoMark(Beats.Zero, 60)], [new Hold(new Beats(4, 1), new Seconds(2))]);
        var notes = new[] { Note(0, Pitch.Parse("C3"), Beats.Zero, new Beats(4, 1)), Note(1, Pitch.Parse("D3"), new Beats(4, 1), Beats.Quarter) };

        var back = Unfolder.Play(MidiLines.Read(Written(Of(notes, tempo))), "back").Value;

        Assert.Equal(6, back.Notes[1].StartTime.Value, 0.001);
        Assert.Equal(1, back.Notes[1].Duration.Value, 0.001);
    }

    [Fact]
    public void An_upbeat_is_written_in_a_meter_of_its_own()
    {
        var line = Unfolder.Play(Abc.Tunes.Part("C2|C8|C8|", "M:4/4\nL:1/8"), "upbeat").Value;

        var part = MidiLines.Read(Written(line));

        Assert.Equal([(1, 4), (4, 4), (4, 4)], part.Bars.Select(b => (b.Meter.Beats, b.Meter.BeatUnit)));
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData("48656C6C6F", "does not begin with 'MThd'")]
    [InlineData("4D546864", "ends inside its head")]
    [InlineData("4D54686400000006000200010060", "format 2")]
    [InlineData("4D54686400000006000700010060", "format is 7")]
    [InlineData("4D54686400000006000000010000", "no ticks")]
    [InlineData("4D54686400000002000000010060", "too short")]
    [InlineData("4D54686400000006000000010060", "no notes")]
    public void What_is_no_music_gives_one_clear_error(string hex, string said)
    {
        var outcome = MidiReader.Read(new MemoryStream(Convert.FromHexString(hex)), "x.mid");

        Assert.False(outcome.Succeeded);
        Assert.Single(outcome.Problems, p => p.Severity == Severity.Error && p.What.Contains(said, StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_cut_short_is_used_up_to_the_cut()
    {
        var whole = Played((60, 0, 480), (62, 480, 480), (64, 960, 480));

        var outcome = MidiReader.Read(new MemoryStream(whole[..^10]), "x.mid");

        Assert.StartsWith("C4 1, D4 1", Abc.Tunes.Notes(outcome.Value.Parts[0]), StringComparison.Ordinal);
        Assert.Contains(outcome.Problems, p => p.What.Contains("ends before a chunk does", StringComparison.Ordinal));
    }

    [Fact]
    public void Time_code_becomes_quarter_notes_of_half_a_second()
    {
        var file = Played((60, 0, 500), (62, 500, 500));
        (file[12], file[13]) = (0xE7, 40);

        Assert.Equal("C4 1, D4 1, r 2", Abc.Tunes.Notes(MidiReader.Read(new MemoryStream(file), "x.mid").Value.Parts[0]));
    }

    [Fact]
    public void Size_bars_notes_and_tracks_have_limits()
    {
        Refused(Played((60, 0, 480)), "is larger than", ReadLimits.Default with { MostBytes = 1024 }, pad: 2000);
        Refused(Played((60, 480L * 4 * 30, 480)), "more than 20 bars", ReadLimits.Default with { MostBars = 20 });
        Refused(Played((60, 200_000_000, 480)), "more than 20000 bars", ReadLimits.Default);
        Refused(Played([.. Enumerable.Range(0, 30).Select(i => (60, i * 480L, 480L))]), "more than 20 notes", ReadLimits.Default with { MostNotes = 20 });
        Refused(Played([.. Enumerable.Range(0, 300).Select(i => (60, i * 480L, 480L))]), "more than 100 events", ReadLimits.Default with { MostElements = 100 });
        Refused(Played((60, 0, 480)), "most notes is 0", ReadLimits.Default with { MostNotes = 0 });
    }

    [Fact]
    public void Damaged_bytes_never_escape_as_exceptions() => Gen.Select(Gen.Int[0, 500], Gen.Int[0, int.MaxValue]).Sample((seed, damage) =>
    {
        var random = new Random(damage);
        var bytes = Written(Invented(seed));
        if (random.Next(3) == 0) bytes = bytes[..random.Next(bytes.Length)];
        for (var i = random.Next(1, 20); i > 0 && bytes.Length > 0; i--) bytes[random.Next(random.Next(2) == 0 ? Math.Min(40, bytes.Length) : bytes.Length)] = (byte)random.Next(256);
        Survives(bytes);
    }, iter: 1500);

    private static void Survives(byte[] bytes)
    {
        var outcome = MidiReader.Read(new MemoryStream(bytes), "x.mid", ReadLimits.Default with { MostBars = 200 });
        if (!outcome.Succeeded)
        {
            Assert.Contains(outcome.Problems, p => p.Severity == Severity.Error && p.What.Length > 0 && p.Where.Length > 0);
            return;
        }

        Assert.DoesNotContain(outcome.Problems, p => p.Severity == Severity.Error);
        Whole.Check(outcome.Value);
        var chosen = PartChooser.Choose(outcome.Value, Catalogue.Default);
        if (chosen.Succeeded) Unfolder.Play(chosen.Value, "x");
        Assert.True(Files.Read(Files.Written(outcome.Value)).Succeeded);
    }

    private static void Refused(byte[] bytes, string said, ReadLimits limits, int pad = 0)
    {
        var outcome = MidiReader.Read(new MemoryStream([.. bytes, .. new byte[pad]]), "x.mid", limits);
        Assert.False(outcome.Succeeded);
        Assert.Single(outcome.Problems, p => p.Severity == Severity.Error && p.What.Contains(said, StringComparison.Ordinal));
    }
}
