using Seamwright.Core.Scores;
using static Seamwright.Tests.Scores.Abc.Tunes;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>Bar lines, endings, ties, slurs, tuplets and marks: the standard's examples, the section beside each.</summary>
public class AbcStandardBarTests
{
    [Fact] // 4.8
    public void Bar_lines_of_each_kind_read()
    {
        var part = Part("c8|c8||c8[|c8|:c8:|c8::c8:|c8|]");

        Assert.Equal("Regular Double Double Regular Regular Regular Regular Final", string.Join(' ', part.Bars.Select(b => b.Road.RightBarline)));
        Assert.Equal([4, 6], part.Bars.Where(b => b.Road.RepeatStarts).Select(b => b.Index));
        Assert.Equal([4, 5, 6], part.Bars.Where(b => b.Road.RepeatTimes == 2).Select(b => b.Index));
    }

    [Theory] // 4.8
    [InlineData("::")]
    [InlineData(":|:")]
    [InlineData(":||:")]
    [InlineData(":|]|:")]
    [InlineData(":|\n|:")]
    public void An_end_and_a_start_may_share_a_sign(string sign)
    {
        var part = Part($"c8{sign}d8:|");

        Assert.Equal((2, 2), (part.Bars.Length, part.Bars[0].Road.RepeatTimes));
        Assert.True(part.Bars[1].Road.RepeatStarts);
    }

    [Theory] // 4.8
    [InlineData("|::c8::|", 3)]
    [InlineData("|:c8::|", 3)]
    [InlineData("|::c8:|", 3)]
    [InlineData("|:c8:|", 2)]
    [InlineData("[|:::c8:|", 4)]
    public void More_dots_repeat_more_often(string music, int times) => Assert.Equal(times, Part(music).Bars[0].Road.RepeatTimes);

    [Fact] // 4.8
    public void Dotted_and_invisible_bar_lines_are_bar_lines()
    {
        var outcome = Read("X:1\nM:4/4\nL:1/8\nK:C\nc8.|d8[|]e8|[|\n");

        Assert.Equal(("C5 4, D5 4, E5 4", 3), (Notes(outcome.Value.Parts[0]), outcome.Value.Parts[0].Bars.Length));
        Assert.Equal(["The file names no clef at the start; the treble clef is taken."], outcome.Problems.Select(p => p.What));
    }

    [Theory] // 4.9
    [InlineData("|:faf gfe|[1 dfe dBA:|[2 d2e dcB|]")]
    [InlineData("|:faf gfe|1 dfe dBA:|2 d2e dcB|]")]
    [InlineData("faf gfe|1 dfe dBA :|2 d2e dcB |]")]
    public void First_and_second_endings_are_played_in_turn(string music)
    {
        var line = Unfolder.Play(Part(music, "M:6/8"), "test").Value;

        Assert.Equal("1 2 1 3", string.Join(' ', line.Bars.Select(b => b.Number)));
    }

    [Fact] // 4.10
    public void Endings_may_have_lists_and_ranges_of_numbers()
    {
        var part = Part("|:c8|[1,3,5-7 d8:|[2,4,8 e8:|]");

        Assert.Equal([1, 3, 5, 6, 7], part.Bars[1].Road.Endings);
        Assert.Equal([2, 4, 8], part.Bars[2].Road.Endings);
    }

    [Fact] // 4.10, played
    public void Four_endings_are_played_in_turn() =>
        Assert.Equal("C5 D5 C5 E5 C5 F5 C5 G5", string.Join(' ', Unfolder.Play(Part("|:c8|[1 d8:|[2 e8:|[3 f8:|[4 g8|]"), "t").Value.Notes.Select(n => n.Pitch)));

    [Fact] // 4.11
    public void Ties_join_inside_and_over_bars()
    {
        Assert.Equal("C5 2-, C5 2", Notes(Part("c4-c4|")));
        Assert.Equal("A4 1/2, B4 1/2, C5 1/2-, C5 1/2, B4 1/2, A4 1/2", Notes(Part("ABc-|cBA|", "M:3/8\nL:1/8")));
    }

    [Fact] // 4.11: a tie joins one pitch, so its accidental goes on over the bar line
    public void A_tied_note_keeps_its_accidental() => Assert.Equal("F#5 F#5 F5", Pitches(Part("^f8-|f4 =f4|")));

    [Theory] // 4.11
    [InlineData("(DEFG)", "0-3")]
    [InlineData("  ( D E F G )  ", "0-3")]
    [InlineData("(c (d e f) g a)", "0-5 1-3")]
    [InlineData("(c d (e) f g a)", "0-2 2-5")]
    [InlineData(".(cde)", "0-2")]
    [InlineData("(cd|ef)", "0-3")]
    public void Slurs_may_nest_and_meet_on_a_note(string music, string slurs) => Assert.Equal(slurs, Slurs(Part(music + "|", "M:none\nL:1/8")));

    [Fact] // 4.11
    public void A_dotted_tie_is_a_tie() => Assert.Equal("C4 1/2-, C4 1/2", Notes(Part("C.-C|", "M:1/4\nL:1/8")));

    [Theory] // 4.12
    [InlineData("{GdGe}c8|", "G4 D5 G4 E5 C5", Grace.Plain)]
    [InlineData("{/g}C8|", "G5 C4", Grace.Slashed)]
    [InlineData("{/gagab}C8|", "G5 A5 G5 A5 B5 C4", Grace.Slashed)]
    public void Grace_notes_read(string music, string pitches, Grace kind)
    {
        var part = Part(music);

        Assert.Equal(pitches, Pitches(part));
        Assert.All(part.Notes.SkipLast(1), n => Assert.Equal(kind, n.Grace));
    }

    [Theory] // 4.12
    [InlineData("A<{g}A")]
    [InlineData("A{g}<A")]
    [InlineData("A/2{g}A3/2")]
    public void Broken_rhythm_sees_through_grace_notes(string music) => Assert.Equal("A4 1/4, G5 g, A4 3/4", Notes(Part(music + "|", "M:1/4\nL:1/8")));

    [Theory] // 4.13
    [InlineData("(2ab", "4/4", "3/4 3/4")]
    [InlineData("(3abc", "4/4", "1/3 1/3 1/3")]
    [InlineData("(4abcd", "4/4", "3/8 3/8 3/8 3/8")]
    [InlineData("(5abcde", "4/4", "1/5 1/5 1/5 1/5 1/5")]
    [InlineData("(5abcde", "6/8", "3/10 3/10 3/10 3/10 3/10")]
    [InlineData("(6abcdef", "4/4", "1/6 1/6 1/6 1/6 1/6 1/6")]
    [InlineData("(7abcdefg", "9/8", "3/14 3/14 3/14 3/14 3/14 3/14 3/14")]
    [InlineData("(3:2abc", "4/4", "1/3 1/3 1/3")]
    [InlineData("(3::abc", "4/4", "1/3 1/3 1/3")]
    [InlineData("(3:2:3abc", "4/4", "1/3 1/3 1/3")]
    [InlineData("(3::2 ab c", "4/4", "1/3 1/3 1/2")]
    [InlineData("(3:2:2 G4c2", "4/4", "4/3 2/3")]
    [InlineData("(3:2:4 G2A2Bc", "4/4", "2/3 2/3 1/3 1/3")]
    [InlineData("(3 D2E2F2", "4/4", "2/3 2/3 2/3")]
    [InlineData("(3 D3EF2", "4/4", "1 1/3 2/3")]
    public void Tuplets_read(string music, string meter, string lengths)
    {
        var notes = Part(music + "|", $"M:{meter}\nL:1/8").Bars[0].Events.OfType<Note>().ToList();

        Assert.Equal(lengths, string.Join(' ', notes.Select(n => n.Duration)));
        Assert.Equal((TupletEdge.Start, lengths.EndsWith("1/2", StringComparison.Ordinal) ? TupletEdge.None : TupletEdge.Stop), (notes[0].TupletEdge, notes[^1].TupletEdge));
    }

    [Fact] // 4.14
    public void A_staccato_triplet() => Assert.All(Part("(3.a.b.c|", "M:1/4\nL:1/8").Notes, n => Assert.Equal((Articulations.Staccato, 3), (n.Articulations, n.Value.TupletActual)));

    [Fact] // 4.14
    public void Bowing_marks_are_left_out_and_said() => Assert.Contains(Read("X:1\nK:C\nvAuBvA|").Problems, p => p.What.Contains("'downbow'", StringComparison.Ordinal));

    [Theory] // 4.14
    [InlineData(">", Articulations.Accent)]
    [InlineData("accent", Articulations.Accent)]
    [InlineData("emphasis", Articulations.Accent)]
    [InlineData("tenuto", Articulations.Tenuto)]
    [InlineData("wedge", Articulations.Staccatissimo)]
    public void Articulations_read(string name, Articulations articulation) => Assert.Equal(articulation, Part($"!{name}! A8|").Notes.Single().Articulations);

    [Fact] // 4.14
    public void Fermata_breath_dynamics_and_hairpins_read()
    {
        var bar = Part("!mf!!<(!A2 !breath!B2 !<)!!f!!fermata!c4|").Bars[0];

        Assert.Equal([(0.0, DirectionKind.Dynamic, "mf"), (0.0, DirectionKind.Crescendo, ""), (2.0, DirectionKind.HairpinEnd, ""), (2.0, DirectionKind.Dynamic, "f")],
            bar.Directions.Select(d => (d.Offset.ToDouble(), d.Kind, d.Text)));
        Assert.Equal([(false, false), (true, false), (false, true)], bar.Events.OfType<Note>().Select(n => (n.BreathAfter, n.Fermata)));
    }

    [Fact] // 4.14, played
    public void The_road_is_followed()
    {
        var line = Unfolder.Play(Part("A8|!segno!B8|!coda!c8|d8!D.S.!|!coda!e8|]"), "t").Value;

        Assert.Equal("A4 B4 C5 D5 B4 C5 E5", string.Join(' ', line.Notes.Select(n => n.Pitch)));
    }

    [Fact] // 4.14, played
    public void Da_capo_al_fine_is_followed() => Assert.Equal("A4 B4 C5 A4 B4", string.Join(' ', Unfolder.Play(Part("A8|B8!fine!|c8!D.C.!|]"), "t").Value.Notes.Select(n => n.Pitch)));

    [Fact] // 4.15
    public void A_symbol_line_marks_the_notes_above_it()
    {
        var part = Part("C2  C2 Ez   A2|\ns: \"C\" *  \"Am\" * |\ns: *   *  !>!  * |");
        var same = Part("\"C\" C2 C2 \"Am\" !>! Ez A2|");

        Assert.Equal(Articulations.Accent, part.Notes.ElementAt(2).Articulations);
        Assert.Equal(same.Bars[0].Chords.Select(c => (c.Offset, $"{c.Chord}")), part.Bars[0].Chords.Select(c => (c.Offset, $"{c.Chord}")));
    }

    [Fact] // 4.16
    public void Letters_can_be_given_another_meaning_or_none()
    {
        Assert.Equal(Articulations.Tenuto, Part("TA8|", "U: T = !tenuto!\nM:4/4").Notes.Single().Articulations);
        Assert.False(Part("HA8|", "U: H = !nil!\nM:4/4").Notes.Single().Fermata);
        Assert.True(Part("HA8|").Notes.Single().Fermata);
        Assert.Equal("+", Part("pA8|", "U: p = \"^+\"\nM:4/4").Bars[0].Directions.Single().Text);
    }

    [Theory] // 4.17
    [InlineData("[CEGc]", "C5 1/2")]
    [InlineData("[C2E2G2]3", "G4 3")]
    [InlineData("[CEG]6", "G4 3")]
    [InlineData("[DD]", "D4 1/2")]
    [InlineData("[d2f2]", "F5 1")]
    public void The_top_note_of_a_chord_is_kept(string music, string notes) => Assert.Equal(notes, Notes(Part(music + "|", "M:none\nL:1/8")));

    [Fact] // 4.17
    public void A_chord_takes_what_a_note_takes()
    {
        var part = Part("( \"^I\" !f! [CEG]- > [CEG] \"^IV\" [F=AC]3/2\"^V\"[GBD]/  H[CEG]2 )|", "M:none\nL:1/4");

        Assert.Equal("G4 3/2-, G4 1/2, A4 3/2, B4 1/2, G4 2", Notes(part));
        Assert.Equal("0-4", Slurs(part));
        Assert.True(part.Notes.Last().Fermata);
        Assert.Equal("I IV V", string.Join(' ', part.Bars[0].Directions.Where(d => d.Kind == DirectionKind.Words).Select(d => d.Text)));
    }

    [Theory] // 4.20
    [InlineData("~^c'3", "C#6 3/2")]
    [InlineData("\"Gm7\"v.=G,2", "G3 1")]
    [InlineData("=G,2- ", "G3 1")]
    [InlineData("\"C\"[CEGc]", "C5 1/2")]
    [InlineData("\"Gm7\"[.=G,^c']", "C#6 1/2")]
    [InlineData("\"Gm7\"(v.=G,2~^c'2)", "G3 1, C#6 1")]
    public void Constructs_stand_in_this_order(string music, string notes) => Assert.Equal(notes, Notes(Part(music + "|", "M:none\nL:1/8")));

    [Fact] // 8.1
    public void Reserved_signs_are_ignored()
    {
        var part = Part("@a !pp! #bc2/3* [K:C#] de?f \"@this $2was difficult to parse?\" y |**", "M:none\nL:1/8");
        var same = Part("a !pp! bc2/3 [K:C#] def \"@this $2was difficult to parse?\" y |", "M:none\nL:1/8");

        Assert.Equal("A5 B5 C5 D#5 E#5 F#5", Pitches(part));
        Assert.Equal(Dump.Of(new Score { Parts = [same] }), Dump.Of(new Score { Parts = [part] }));
    }
}
