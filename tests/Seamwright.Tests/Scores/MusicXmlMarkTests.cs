using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

/// <summary>What hangs on notes and bars: marks, slurs, ties, words, tempo and the way through repeats.</summary>
public class MusicXmlMarkTests
{
    [Fact]
    public void Marks_hang_on_their_notes()
    {
        var part = ReadPart(N("C3", 48, "<type>whole</type>" + Notations("<articulations><staccato/><tenuto/><breath-mark/></articulations><fermata/>")
            + "<lyric number=\"1\"><syllabic>begin</syllabic><text>la</text></lyric><lyric number=\"2\"><text>x</text></lyric>"));

        var note = part.Notes.Single();
        Assert.Equal(Articulations.Staccato | Articulations.Tenuto, note.Articulations);
        Assert.True(note.BreathAfter && note.Fermata);
        Assert.Equal("la-", note.Lyric);
    }

    [Fact]
    public void Grace_notes_take_no_time_on_the_sheet()
    {
        var part = ReadPart($"<note><grace slash=\"yes\"/>{P("B2")}<voice>1</voice><type>eighth</type></note><note><grace/>{P("D3")}<voice>1</voice><type>16th</type></note>" + N("C3", 48));

        Assert.Equal([Grace.Slashed, Grace.Plain, Grace.None], part.Notes.Select(n => n.Grace));
        Assert.Equal(Beats.Zero, part.Notes.First().Duration);
    }

    [Fact]
    public void Slurs_pair_by_number_across_bars_and_inside_one_another()
    {
        var part = ReadPart(
            Slurred("C3", "start 1") + Slurred("D3", "start 2") + Slurred("E3", "stop 2") + Slurred("F3", ""),
            Slurred("G3", "stop 1", "start 1") + Slurred("A3", "stop 1") + Slurred("B3", "") + Slurred("C4", ""));

        var names = part.Notes.ToDictionary(n => n.Id, n => n.Pitch.ToString());
        Assert.Equal(["C3-G3", "D3-E3", "G3-A3"], part.Slurs.Select(s => $"{names[s.FromId]}-{names[s.ToId]}"));
    }

    [Fact]
    public void A_slur_that_never_ends_is_left_out_and_said()
    {
        var outcome = Read(Partwise(Slurred("C3", "start 1") + Slurred("D3", "start 2") + Slurred("E3", "stop 1") + Slurred("F3", "")));

        Assert.Single(outcome.Value.Parts[0].Slurs);
        Assert.Contains(outcome.Problems, p => p.What.Contains("never ends"));
    }

    [Fact]
    public void A_slur_whose_numbers_disagree_ends_at_the_next_end()
    {
        var part = ReadPart(Slurred("C3", "start 1") + Slurred("D3", "") + Slurred("E3", "stop 2") + Slurred("F3", ""));

        var ids = part.Notes.Select(n => n.Id).ToList();
        Assert.Equal(new Span(ids[0], ids[2]), part.Slurs.Single());
    }

    [Fact]
    public void A_slur_into_another_voice_ends_with_its_own_voice()
    {
        var score = Read(Partwise(
            N("C4", 12, Notations("<slur type=\"start\" number=\"1\"/>")) + N("D4", 12) + R(24)
            + "<backup><duration>48</duration></backup>" + R(24, "2") + N("C3", 24, Notations("<slur type=\"stop\" number=\"1\"/>"), "2"))).Value;

        var ids = score.Parts[0].Notes.Select(n => n.Id).ToList();
        Assert.Equal(new Span(ids[0], ids[1]), score.Parts[0].Slurs.Single());
    }

    [Fact]
    public void Ties_hold_only_between_equal_pitches()
    {
        const string Tie = "<tie type=\"start\"/>";
        var outcome = Read(Partwise(
            N("C3", 24).Replace("<voice>", Tie + "<voice>") + N("C3", 24).Replace("<voice>", Tie + "<voice>"),
            N("C3", 24).Replace("<voice>", Tie + "<voice>") + N("D3", 24)));

        Assert.Equal([true, true, false, false], outcome.Value.Parts[0].Notes.Select(n => n.TieToNext));
        Assert.Contains(outcome.Problems, p => p.Where == "Trombone, bar 2 beat 1" && p.What.Contains("tie"));
    }

    [Fact]
    public void Dynamics_words_and_hairpins_stand_at_their_place()
    {
        var part = ReadPart(Dir("<dynamics><mp/></dynamics>") + N("C3", 24) + Dir("<wedge type=\"crescendo\"/>") + Dir("<words>dolce</words>") + N("D3", 24) + Dir("<wedge type=\"stop\"/>"));

        Assert.Equal(["0 Dynamic mp", "2 Crescendo ", "2 Words dolce", "4 HairpinEnd "], part.Bars[0].Directions.Select(d => $"{d.Offset} {d.Kind} {d.Text}"));
    }

    [Fact]
    public void Tempo_comes_from_sound_or_metronome_mark()
    {
        var part = ReadPart(
            "<direction><direction-type><words>Andante</words></direction-type><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>c. 60</per-minute></metronome></direction-type></direction>" + N("C3", 48),
            "<sound tempo=\"72\"/>" + N("C3", 48),
            Dir("<words>Largo</words>") + N("C3", 48));

        Assert.Equal(new TempoText(Beats.Zero, 90, "Andante", new NoteValue(2, 1)), part.Bars[0].Tempos.Single());
        Assert.Equal(72, part.Bars[1].Tempos.Single().QuartersPerMinute);
        Assert.Equal(("Largo", null), (part.Bars[2].Tempos.Single().Words, part.Bars[2].Tempos.Single().QuartersPerMinute));
    }

    [Fact]
    public void Tempo_and_jumps_of_the_top_part_hold_for_all_parts()
    {
        var xml = Partwise("<sound tempo=\"66\"/>" + N("C3", 48) + "<sound dacapo=\"yes\"/>").Replace("</part-list>", "<score-part id=\"P2\"><part-name>Bass</part-name></score-part></part-list>")
            .Replace("</score-partwise>", $"<part id=\"P2\"><measure number=\"1\">{Start}{N("C2", 48)}</measure></part></score-partwise>");

        var second = Read(xml).Value.Parts[1];

        Assert.Equal(66, second.Bars[0].Tempos.Single().QuartersPerMinute);
        Assert.Equal(Jump.DaCapo, second.Bars[0].Road.Jump);
    }

    [Theory]
    [InlineData("D.C. al Fine", Jump.DaCapo)]
    [InlineData("D. S. al Coda", Jump.DalSegno)]
    [InlineData("Dal Segno", Jump.DalSegno)]
    public void Jumps_are_also_read_from_their_words(string words, Jump expected) =>
        Assert.Equal(expected, ReadPart(N("C3", 48) + Dir($"<words>{words}</words>")).Bars[0].Road.Jump);

    [Fact]
    public void Endings_mark_every_bar_under_their_bracket()
    {
        var part = ReadPart(
            N("C3", 48),
            Ending("1", "start", "left") + N("D3", 48),
            N("E3", 48) + Ending("1", "stop", "right", "<repeat direction=\"backward\"/>"),
            Ending("2, 3", "start", "left") + N("F3", 48) + Ending("2, 3", "stop", "right"));

        Assert.Equal(["", "1", "1", "2,3"], part.Bars.Select(b => string.Join(',', b.Road.Endings)));
        Assert.Equal([false, true, false, true], part.Bars.Select(b => b.Road.EndingStarts));
        Assert.Equal([false, false, true, true], part.Bars.Select(b => b.Road.EndingStops));
        Assert.Equal(2, part.Bars[2].Road.RepeatTimes);
    }

    [Fact]
    public void An_ending_without_a_close_closes_at_its_repeat_sign_or_before_the_next()
    {
        var part = ReadPart(
            Ending("1", "start", "left") + N("D3", 48) + Repeat("backward"), N("E3", 48),
            Ending("2", "start", "left") + N("E3", 48), Ending("3", "start", "left") + N("F3", 48));

        Assert.Equal([true, false, true, true], part.Bars.Select(b => b.Road.EndingStops));
        Assert.Equal(["1", "", "2", "3"], part.Bars.Select(b => string.Join(',', b.Road.Endings)));
    }

    [Fact]
    public void A_coda_sign_that_leads_to_the_coda_is_not_the_coda()
    {
        var road = ReadPart(N("C3", 48) + "<direction><direction-type><coda/></direction-type><sound tocoda=\"coda\"/></direction>").Bars[0].Road;

        Assert.Equal((true, false), (road.ToCoda, road.Coda));
    }

    [Fact]
    public void A_segno_at_the_end_of_a_bar_belongs_to_the_next()
    {
        var part = ReadPart(N("C3", 48) + Dir("<segno/>"), N("C3", 48));

        Assert.Equal([false, true], part.Bars.Select(b => b.Road.Segno));
    }

    [Fact]
    public void Courtesy_accidentals_are_those_the_bar_does_not_need()
    {
        const string Flat = "<accidental>flat</accidental>";
        var part = ReadPart(N("Bb2", 12, Flat) + N("Bb2", 12, Flat) + N("A2", 24), N("Bb2", 48, Flat));

        Assert.Equal([false, true, false, false], part.Notes.Select(n => n.CourtesyAccidental));
    }

    private static string Slurred(string pitch, params string[] slurs) =>
        N(pitch, 12, Notations(string.Concat(slurs.Where(s => s.Length > 0).Select(s => s.Split(' ')).Select(s => $"<slur type=\"{s[0]}\" number=\"{s[1]}\"/>"))));

    private static string Dir(string type) => $"<direction><direction-type>{type}</direction-type></direction>";

    private static string Ending(string number, string type, string location, string more = "") =>
        $"<barline location=\"{location}\"><ending number=\"{number}\" type=\"{type}\"/>{more}</barline>";
}
