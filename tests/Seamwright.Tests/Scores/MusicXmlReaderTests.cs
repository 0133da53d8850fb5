using System.Text;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class MusicXmlReaderTests
{
    [Fact]
    public void Notes_have_their_pitch_place_and_shape()
    {
        var part = ReadPart(N("Bb2", 18, "<type>quarter</type><dot/>") + N("C3", 6, "<type>eighth</type>") + R(24));

        var events = part.Bars[0].Events;
        Assert.Equal("Bb2", ((Note)events[0]).Pitch.ToString());
        Assert.Equal(new NoteValue(2, 1), events[0].Value);
        Assert.Equal(new Beats(3, 2), events[1].Offset);
        Assert.Equal(NoteValue.Eighth, events[1].Value);
        Assert.Equal(NoteValue.Half, Assert.IsType<Rest>(events[2]).Value);
        Assert.Equal(Beats.Zero, part.Bars[0].Start);
    }

    [Fact]
    public void A_clean_file_has_no_problems() => Assert.Empty(Read(Partwise(N("C3", 48), R(48))).Problems);

    [Fact]
    public void Timewise_and_compressed_files_read_like_partwise_ones()
    {
        var plain = Partwise(N("C3", 48), N("D3", 48));
        var timewise = $"""
            <score-timewise version="4.0"><part-list><score-part id="P1"><part-name>Trombone</part-name></score-part></part-list>
            <measure number="1"><part id="P1">{Start}{N("C3", 48)}</part></measure><measure number="2"><part id="P1">{N("D3", 48)}</part></measure></score-timewise>
            """;

        var expected = Dump.Of(Read(plain).Value);
        Assert.Equal(expected, Dump.Of(Read(timewise).Value));
        Assert.Equal(expected, Dump.Of(Read(Mxl(plain)).Value));
        Assert.Equal(expected, Dump.Of(Read(Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(plain.Replace("UTF-8", "UTF-16"))).ToArray()).Value));
    }

    [Fact]
    public void A_file_in_UTF_8_that_calls_itself_UTF_16_is_read_all_the_same() =>
        Assert.True(Read(Partwise(N("C3", 48)).Replace("UTF-8", "UTF-16")).Succeeded);

    [Fact]
    public void A_compressed_file_without_a_container_still_finds_its_score() =>
        Assert.True(Read(Zip(("tune.xml", Utf8(Partwise(N("C3", 48)))))).Succeeded);

    [Fact]
    public void Titles_composer_and_rights_come_from_the_header()
    {
        var xml = Partwise(N("C3", 48)).Replace("<part-list>",
            "<work><work-title>Harbour</work-title></work><movement-title>At dusk</movement-title><identification><creator type=\"composer\">M. Invented</creator><rights>CC0</rights></identification><part-list>");

        var score = Read(xml).Value;

        Assert.Equal(("Harbour", "At dusk", "M. Invented", "CC0"), (score.Title, score.Subtitle, score.Composer, score.Rights));
    }

    [Theory]
    [InlineData("<diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change>", "C4", "Bb2", 8, 14)]
    [InlineData("<diatonic>-1</diatonic><chromatic>-2</chromatic>", "C4", "Bb3", 1, 2)]
    [InlineData("<chromatic>-2</chromatic>", "D4", "C4", 1, 2)]
    [InlineData("<diatonic>-4</diatonic><chromatic>-7</chromatic>", "G4", "C4", 4, 7)]
    [InlineData("<diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change>", "C4", "C3", 7, 12)]
    [InlineData("<diatonic>2</diatonic><chromatic>3</chromatic>", "C4", "Eb4", -2, -3)]
    public void Transposing_parts_are_read_at_concert_pitch(string transpose, string written, string concert, int steps, int semitones)
    {
        var part = ReadPart("<attributes><divisions>12</divisions><key><fifths>2</fifths></key><clef><sign>G</sign><line>2</line></clef>"
            + $"<transpose>{transpose}</transpose></attributes>" + N(written, 48));

        Assert.Equal(concert, part.Notes.Single().Pitch.ToString());
        Assert.Equal(new Interval(steps, semitones), part.Transposition);
    }

    [Fact]
    public void The_key_of_a_B_flat_part_is_two_flats_lower_in_concert_and_its_clef_is_the_brass_band_one()
    {
        var part = ReadPart("<attributes><divisions>12</divisions><key><fifths>2</fifths></key><clef><sign>G</sign><line>2</line></clef>"
            + "<transpose><diatonic>-8</diatonic><chromatic>-14</chromatic></transpose></attributes>" + N("D4", 48));

        Assert.Equal(0, part.Bars[0].Key.Fifths);
        Assert.Equal(Clef.TrebleBb, part.Bars[0].Clefs.Single().Clef);
    }

    [Theory]
    [InlineData("F", 4, 0, Clef.Bass)]
    [InlineData("C", 4, 0, Clef.Tenor)]
    [InlineData("C", 3, 0, Clef.Alto)]
    [InlineData("G", 2, 0, Clef.Treble)]
    [InlineData("F", 4, -1, Clef.BassOctaveDown)]
    [InlineData("G", 2, -1, Clef.TrebleOctaveDown)]
    public void Clefs_are_told_apart(string sign, int line, int octave, Clef expected)
    {
        var part = ReadPart($"<attributes><divisions>12</divisions><clef><sign>{sign}</sign><line>{line}</line><clef-octave-change>{octave}</clef-octave-change></clef></attributes>" + N("C3", 48));

        Assert.Equal(expected, part.Bars[0].Clefs.Single().Clef);
    }

    [Fact]
    public void A_clef_may_change_inside_a_bar()
    {
        var part = ReadPart(N("C3", 24) + "<attributes><clef><sign>C</sign><line>4</line></clef></attributes>" + N("G3", 24));

        Assert.Equal([new ClefMark(Beats.Zero, Clef.Bass), new ClefMark(new Beats(2, 1), Clef.Tenor)], part.Bars[0].Clefs);
    }

    [Fact]
    public void Sums_of_beats_are_added_up_and_their_groups_kept()
    {
        var part = ReadPart("<attributes><divisions>2</divisions><time><beats>3+2</beats><beat-type>8</beat-type></time></attributes>" + N("C3", 5));

        Assert.Equal(new Meter(5, 8).Grouped([3, 2]), part.Bars[0].Meter);
    }

    [Fact]
    public void Without_a_meter_each_bar_is_as_long_as_its_notes()
    {
        var outcome = Read(Partwise("<attributes><divisions>12</divisions><time><senza-misura/></time></attributes>" + N("C3", 84), N("D3", 12)));

        Assert.Equal([new Beats(7, 1), new Beats(1, 1)], outcome.Value.Parts[0].Bars.Select(b => b.Length));
        Assert.Contains(outcome.Problems, p => p.What.Contains("no meter"));
    }

    [Fact]
    public void Without_any_time_signature_each_bar_gets_the_one_that_fits()
    {
        var outcome = Read(Partwise("<attributes><divisions>12</divisions><clef><sign>F</sign><line>4</line></clef></attributes>" + N("C3", 24), N("D3", 18)));

        Assert.Equal([new Meter(2, 4), new Meter(3, 8)], outcome.Value.Parts[0].Bars.Select(b => b.Meter));
        Assert.Contains("without a time signature", Assert.Single(outcome.Problems).What);
    }

    [Fact]
    public void An_upbeat_is_short_on_purpose_and_so_is_the_last_bar_that_completes_it()
    {
        var outcome = Read(Partwise("<measure number=\"0\" implicit=\"yes\">" + Start + N("F2", 12) + "</measure>", N("Bb2", 48), N("F2", 36)));

        var bars = outcome.Value.Parts[0].Bars;
        Assert.Equal([true, false, true], bars.Select(b => b.IsPickup));
        Assert.Equal([new Beats(0, 1), new Beats(1, 1), new Beats(5, 1)], bars.Select(b => b.Start));
        Assert.Empty(outcome.Problems.Where(p => p.Severity == Severity.Warning));
    }

    [Fact]
    public void A_bar_divided_by_a_repeat_sign_is_short_on_both_sides()
    {
        var outcome = Read(Partwise(N("C3", 48), N("C3", 36) + Repeat("backward"), N("D3", 12), N("E3", 48)));

        Assert.Equal([false, true, true, false], outcome.Value.Parts[0].Bars.Select(b => b.IsPickup));
        Assert.DoesNotContain(outcome.Problems, p => p.Severity == Severity.Warning);
    }

    [Fact]
    public void A_bar_divided_by_a_repeat_start_is_short_on_both_sides()
    {
        var outcome = Read(Partwise(N("C3", 48), N("C3", 36), "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + N("D3", 12), N("E3", 48)));

        Assert.Equal([false, true, true, false], outcome.Value.Parts[0].Bars.Select(b => b.IsPickup));
    }

    [Fact]
    public void A_bar_too_short_is_filled_and_a_bar_too_long_is_kept_and_both_are_said()
    {
        var outcome = Read(Partwise(N("C3", 48), N("C3", 24), N("D3", 60), N("E3", 48)));

        var bars = outcome.Value.Parts[0].Bars;
        Assert.Equal([4, 4, 5, 4], bars.Select(b => (int)b.Length.ToDouble()));
        Assert.IsType<Rest>(bars[1].Events[^1]);
        Assert.Contains(outcome.Problems, p => p.Where == "Trombone, bar 2" && p.What.Contains("2 of 4"));
        Assert.Contains(outcome.Problems, p => p.Where == "Trombone, bar 3" && p.What.Contains("5 of 4"));
    }

    [Fact]
    public void Gaps_left_by_forward_and_backup_are_filled_with_rests()
    {
        var part = ReadPart("<forward><duration>12</duration></forward>" + N("C3", 12) + "<forward><duration>24</duration></forward>");

        Assert.Equal(["Rest 0 1", "Note 1 1", "Rest 2 2"], part.Bars[0].Events.Select(e => $"{e.GetType().Name} {e.Offset} {e.Duration}"));
    }

    [Fact]
    public void Each_voice_becomes_a_part_of_its_own_that_fills_every_bar()
    {
        var score = Read(Partwise(
            N("C4", 48) + "<backup><duration>48</duration></backup>" + N("C3", 24, voice: "2") + N("D3", 24, voice: "2"),
            N("D4", 48))).Value;

        Assert.Equal(["1", "2"], score.Parts.Select(p => p.Voice));
        Assert.Equal(["P1", "P1"], score.Parts.Select(p => p.Id));
        Assert.True(Assert.IsType<Rest>(score.Parts[1].Bars[1].Events.Single()).FillsBar);
    }

    [Fact]
    public void Tuplets_rounded_to_ticks_become_exact_again()
    {
        var part = ReadPart("<attributes><divisions>10</divisions></attributes>" + Triplet("C3", 7) + Triplet("D3", 6) + Triplet("E3", 7)
            + N("F3", 20) + N("G3", 20).Replace("<duration>20", "<duration>2").Replace("</voice>", "</voice><type>half</type>"));

        Assert.Equal([new Beats(0, 1), new Beats(2, 3), new Beats(4, 3)], part.Bars[0].Events.Take(3).Select(e => e.Offset));
        Assert.Equal(new Beats(2, 1), part.Bars[0].Events[3].Offset);

        static string Triplet(string pitch, int ticks) => N(pitch, ticks, "<type>quarter</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>");
    }

    [Fact]
    public void Going_back_after_rounded_tuplets_leads_to_the_start_of_the_bar()
    {
        const string Triplet = "<type>quarter</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>";
        var score = Read(Partwise("<attributes><divisions>10</divisions></attributes>" + N("C4", 7, Triplet) + N("D4", 6, Triplet)
            + "<backup><duration>13</duration></backup>" + N("C3", 40, voice: "2"))).Value;

        Assert.Equal((Beats.Zero, new Beats(4, 1)), (score.Parts[1].Bars[0].Events[0].Offset, score.Parts[1].Bars[0].Length));
    }

    [Fact]
    public void Tuplet_brackets_are_found_where_the_file_leaves_them_out()
    {
        const string Change = "<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>";
        var part = ReadPart(string.Concat(Enumerable.Repeat(N("C3", 4, "<type>eighth</type>" + Change), 6)) + N("D3", 24));

        Assert.Equal([TupletEdge.Start, TupletEdge.None, TupletEdge.Stop, TupletEdge.Start, TupletEdge.None, TupletEdge.Stop, TupletEdge.None],
            part.Bars[0].Events.Select(e => e.TupletEdge));
    }

    [Fact]
    public void Of_a_chord_the_top_note_stays_and_bar_and_beat_are_said()
    {
        var outcome = Read(Partwise(N("C3", 24) + N("E3", 24).Replace("<note>", "<note><chord/>") + N("G2", 24) + N("E2", 24).Replace("<note>", "<note><chord/>")));

        Assert.Equal(["E3", "G2"], outcome.Value.Parts[0].Notes.Select(n => n.Pitch.ToString()));
        var problem = Assert.Single(outcome.Problems);
        Assert.Equal("Trombone, bar 1 beat 1, bar 1 beat 3", problem.Where);
        Assert.Contains("top one is kept", problem.What);
    }

    [Theory]
    [InlineData("<note><unpitched/><duration>48</duration></note>", "percussion")]
    [InlineData("<note><pitch><step>C</step><alter>0.5</alter><octave>3</octave></pitch><duration>48</duration></note>", "microtone")]
    [InlineData("<note><cue/><pitch><step>C</step><octave>3</octave></pitch><duration>48</duration></note>", "cue")]
    [InlineData("<note><pitch><step>H</step><octave>3</octave></pitch><duration>48</duration></note>", "pitch cannot be read")]
    [InlineData("<note><pitch><step>C</step><octave>99</octave></pitch><duration>48</duration></note>", "pitch cannot be read")]
    [InlineData("<note><duration>48</duration></note>", "without pitch or rest")]
    [InlineData("<note><pitch><step>C</step><octave>3</octave></pitch></note>", "neither a usable duration")]
    [InlineData("<note><pitch><step>C</step><octave>3</octave></pitch><duration>1e9</duration></note>", "neither a usable duration")]
    [InlineData("<note><pitch><step>C</step><octave>3</octave></pitch><duration>999999999</duration></note>", "neither a usable duration")]
    [InlineData("<note><pitch><step>C</step><octave>3</octave></pitch><duration>-4</duration></note>", "neither a usable duration")]
    [InlineData("<backup><duration>x</duration></backup>", "no usable duration")]
    [InlineData("<forward><duration>999999</duration></forward>", "beyond any bar")]
    [InlineData("<backup><duration>48</duration></backup>", "back beyond")]
    [InlineData("<attributes><time><beats>99</beats><beat-type>4</beat-type></time></attributes>", "time signature")]
    [InlineData("<attributes><time><beats>4</beats><beat-type>3</beat-type></time></attributes>", "time signature")]
    [InlineData("<attributes><key><fifths>9</fifths></key></attributes>", "key signature")]
    [InlineData("<attributes><key><key-step>B</key-step><key-alter>-1</key-alter></key></attributes>", "not traditional")]
    [InlineData("<attributes><divisions>0</divisions></attributes>", "divisions")]
    [InlineData("<attributes><staves>2</staves></attributes>", "more than one staff")]
    [InlineData("<attributes><transpose><chromatic>x</chromatic></transpose></attributes>", "transposition")]
    [InlineData("<attributes><clef><sign>percussion</sign></clef></attributes>", "no pitch a trombone")]
    [InlineData("<direction><direction-type><words>x</words></direction-type><sound tempo=\"-3\"/></direction>", "tempo")]
    [InlineData("<barline location=\"right\"><repeat direction=\"backward\" times=\"0\"/></barline>", "repeat")]
    [InlineData("<kazoo/>", "unknown element")]
    public void What_a_trombone_part_cannot_hold_is_said_and_the_rest_is_read(string content, string said)
    {
        var outcome = Read(Partwise(content, N("D3", 48), N("E3", 48)).Replace(content, Start + content));

        Assert.Contains(outcome.Problems, p => p.What.Contains(said));
        Assert.EndsWith("D3 E3", string.Join(' ', outcome.Value.Parts[0].Notes.Select(n => n.Pitch)));
        Assert.All(outcome.Value.Parts[0].Bars, Whole.Check);
    }

    [Fact]
    public void Equal_problems_are_said_once_with_their_places()
    {
        var bar = N("C3", 48) + N("E3", 48).Replace("<note>", "<note><chord/>");

        var outcome = Read(Partwise([.. Enumerable.Repeat(bar, 200)]));

        var problem = Assert.Single(outcome.Problems);
        Assert.Equal("Trombone, bar 1 beat 1, bar 2 beat 1, bar 3 beat 1, bar 4 beat 1 and 196 more", problem.Where);
        Assert.Contains("(200 times)", problem.What);
    }

    [Fact]
    public void Files_without_divisions_use_the_written_shapes()
    {
        var outcome = Read(Wrap("<measure number=\"1\">" + N("C3", 7, "<type>half</type>") + N("D3", 7, "<type>half</type>") + "</measure>"));

        Assert.Equal([new Beats(2, 1), new Beats(2, 1)], outcome.Value.Parts[0].Notes.Select(n => n.Duration));
        Assert.Contains(outcome.Problems, p => p.What.Contains("divisions"));
    }

    [Fact]
    public void Lengths_that_no_shape_can_write_become_tied_notes()
    {
        var part = ReadPart(N("C3", 30) + R(18));

        Assert.Equal([new Beats(2, 1), new Beats(1, 2)], part.Notes.Select(n => n.Duration));
        Assert.Equal([true, false], part.Notes.Select(n => n.TieToNext));
    }

    [Fact]
    public void Ids_of_the_file_are_kept_where_they_are_sound_and_unique()
    {
        var part = ReadPart(
            N("C3", 12).Replace("<note>", "<note id=\"a1\">") + N("D3", 12).Replace("<note>", "<note id=\"a1\">")
            + N("E3", 12).Replace("<note>", "<note id=\"7 bad\">") + N("F3", 12).Replace("<note>", "<note id=\"b1n1\">"));

        var ids = part.Notes.Select(n => n.Id).ToList();
        Assert.Equal(("a1", "b1n1"), (ids[0], ids[3]));
        Assert.Equal(4, ids.Distinct().Count());
        Assert.All(ids, id => Assert.Matches("^[A-Za-z][A-Za-z0-9_-]*$", id));
    }
}
