using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Units;
using Seamwright.Tests.Cli;

namespace Seamwright.Tests.Exercises;

public class KeyChoiceTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Find("tenor-straight")!, level: 4);

    [Fact]
    public void A_tune_that_goes_by_steps_lies_better_in_B_flat_than_in_B()
    {
        // Common practice: beginners' tunes stand in B-flat, and B major is a trombonist's bugbear.
        var ranking = KeyChoice.Rank("steps", Steps(new KeySignature(5)), Grown, everyOctave: true).Value;
        KeyOption Best(int fifths) => ranking.Options.First(o => o.Key.Fifths == fifths);
        Assert.True(ranking.Options.IndexOf(Best(-2)) < ranking.Options.IndexOf(Best(5)));
        Assert.Contains("accidentals in the signature", Best(-2).Reason);
        Assert.StartsWith("Better:", Best(-2).Reason);
    }

    [Fact]
    public void Every_key_and_octave_that_fits_is_there_once_and_no_other()
    {
        var part = Steps(new KeySignature(0));
        var ranking = KeyChoice.Rank("steps", part, Grown, everyOctave: true).Value;
        var notes = part.Notes.Select(n => n.Pitch.Midi).ToList();
        var fitting = Enumerable.Range(-60, 121).Where(s => notes.TrueForAll(m => m + s is >= 0 and <= 127 && Grown.Plays(Pitch.FromMidi(m + s)))).ToList();
        Assert.Equal(fitting, ranking.Options.Select(o => o.Semitones).Order());
        Assert.All(ranking.Options, o => Assert.InRange(o.Key.Fifths, -6, 5));
        Assert.Equal(ranking.Options.Select(o => o.Score.Total).Order(), ranking.Options.Select(o => o.Score.Total));
    }

    [Fact]
    public void A_key_comes_once_in_the_octave_nearest_to_the_tune()
    {
        var part = Steps(new KeySignature(0));
        var ranking = KeyChoice.Rank("steps", part, Grown).Value;
        Assert.Equal(12, ranking.Options.Length);
        var every = KeyChoice.Rank("steps", part, Grown, everyOctave: true).Value.Options;
        Assert.All(ranking.Options, o => Assert.Equal(every.Where(e => (e.Semitones - o.Semitones) % 12 == 0).Min(e => Math.Abs(e.Semitones)), Math.Abs(o.Semitones)));
    }

    [Fact]
    public void The_score_is_what_counting_by_hand_gives()
    {
        var part = Steps(new KeySignature(-2));
        foreach (var option in KeyChoice.Rank("steps", part, Grown).Value.Options)
        {
            var (smears, joined, way, far) = (0, 0, 0.0, 0);
            for (var i = 0; i < option.Plan.Notes.Length; i++)
            {
                var to = option.Plan.Notes[i].Setting!;
                if (to.Position >= 5.5) far++;
                if (i == 0) continue;
                var from = option.Plan.Notes[i - 1].Setting!;
                way += Math.Abs((to.Travel - from.Travel).Value) / 100;
                joined++;
                var (up, further) = (option.Plan.Notes[i].Note.Pitch.Midi > option.Plan.Notes[i - 1].Note.Pitch.Midi, to.Travel.Value > from.Travel.Value);
                if (to.Travel != from.Travel && up != further) smears++;
            }

            var minutes = option.Plan.Notes[^1].Note.EndTime.Value / 60;
            Assert.Equal((smears, joined, far), (option.Score.Smears, option.Score.Joined, option.Score.Far));
            Assert.Equal(way / minutes, option.Score.ArmPerMinute, 1e-6);
            Assert.Equal((2.0 * smears / joined) + (way / minutes / 20) + (2.0 * far / option.Score.Notes) + option.Score.Register + (Math.Abs(option.Key.Fifths) / 7.0) + (4.0 * option.Score.Hurried / joined) + (Math.Abs(option.Semitones) / 24.0), option.Score.Total, 1e-6);
        }
    }

    [Fact]
    public void A_part_too_wide_for_the_pupil_fits_nowhere_and_says_so()
    {
        var wide = Pupil.Of(Catalogue.Default, level: 1) with { Lowest = Pitch.Parse("Bb2"), Highest = Pitch.Parse("D3") };
        var ranking = KeyChoice.Rank("steps", Steps(new KeySignature(-2)), wide);
        Assert.False(ranking.Succeeded);
        Assert.Contains("it spans 7 semitones, and 4 are there", Assert.Single(ranking.Problems).What);
    }

    [Theory]
    [InlineData(0, "as written")]
    [InlineData(1, "a semitone up")]
    [InlineData(-14, "an octave and 2 semitones down")]
    [InlineData(24, "2 octaves up")]
    public void A_move_is_told_in_words(int semitones, string expected) => Assert.Equal(expected, KeyWords.Moved(semitones));

    [Fact]
    public void The_command_tells_reasons_json_and_engraves_three()
    {
        var folder = Directory.CreateTempSubdirectory().FullName;
        var (pdf, part) = (Path.Combine(folder, "keys.pdf"), CommandLine.Melody("evening-ferry"));
        var (code, output, error) = CommandLine.Run("keys", part, "--level", "6", "--count", "4", "-o", pdf);
        Assert.True(code == 0, error);
        Assert.Contains("As written", output);
        using (var read = UglyToad.PdfPig.PdfDocument.Open(pdf))
        {
            var words = string.Join(' ', read.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
            Assert.Equal(3, System.Text.RegularExpressions.Regex.Count(words, "keys that fit this range"));
            Assert.InRange(System.Text.RegularExpressions.Regex.Count(words, "Against the key as written"), 2, 3);
            Assert.Contains("Evening Ferry in", words);
        }

        var json = System.Text.Json.JsonDocument.Parse(CommandLine.Run("keys", part, "--level", "6", "--count", "4", "--json").Output).RootElement;
        Assert.Equal(4, json.GetProperty("keys").GetArrayLength());
        Assert.Equal(0, json.GetProperty("written").GetProperty("semitones").GetInt32());
        Directory.Delete(folder, true);
    }

    // Five notes up and down, at B-flat 2's height.
    private static Part Steps(KeySignature key)
    {
        var bb = MusicXmlReader.Read(new MemoryStream(System.Text.Encoding.UTF8.GetBytes(Music)), "steps.musicxml").Value.Parts[0];
        return Transposer.Move(bb, Transposer.ToKey(bb.Bars[0].Key, new KeyName(key.Tonic, null)).Value.Interval).Value;
    }

    private static string Music => $"""
        <score-partwise version="4.0"><part-list><score-part id="P1"><part-name>T</part-name></score-part></part-list><part id="P1">
        <measure number="1"><attributes><divisions>1</divisions><key><fifths>-2</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>F</sign><line>4</line></clef></attributes>
        {Note("B", -1, 2)}{Note("C", 0, 3)}{Note("D", 0, 3)}{Note("E", -1, 3)}</measure><measure number="2">{Note("F", 0, 3)}{Note("E", -1, 3)}{Note("D", 0, 3)}{Note("C", 0, 3)}</measure></part></score-partwise>
        """;

    private static string Note(string step, int alter, int octave) =>
        $"<note><pitch><step>{step}</step><alter>{alter}</alter><octave>{octave}</octave></pitch><duration>1</duration><type>quarter</type></note>";
}
