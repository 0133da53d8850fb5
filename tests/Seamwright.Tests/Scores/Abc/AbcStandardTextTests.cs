using Seamwright.Core.Scores;
using static Seamwright.Tests.Scores.Abc.Tunes;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>Words, chord symbols, voices and whole sample tunes: the standard's examples, the section beside each.</summary>
public class AbcStandardTextTests
{
    [Theory] // 4.18
    [InlineData("Am7", "Am7")]
    [InlineData("C/E", "C/E")]
    [InlineData("C/e", "C/E")]
    [InlineData("G(Em)", "G")]
    [InlineData("Gmin", "Gm")]
    [InlineData("Bbmaj", "Bb")]
    [InlineData("F#dim", "F#dim")]
    [InlineData("Caug", "C+")]
    [InlineData("C+", "C+")]
    [InlineData("Dsus", "Dsus4")]
    [InlineData("E♭9", "Eb9")]
    [InlineData("D7", "D7")]
    public void Chord_symbols_read(string text, string chord) => Assert.Equal(chord, $"{Part($"\"{text}\"A8|").Bars[0].Chords.Single().Chord}");

    [Fact] // 4.19
    public void Annotations_are_words() => Assert.Equal(["(", ")"], Part("\"<(\" \">)\" C8|").Bars[0].Directions.Select(d => d.Text));

    [Theory] // 5.1
    [InlineData("syll-a-ble", "syll-|a-|ble|||")]
    [InlineData("syll-a--ble", "syll-|a-||ble||")]
    [InlineData("syll-a -ble", "syll-|a-||ble||")]
    [InlineData("time__ x", "time|||x||")]
    [InlineData("of~the~day x", "of the day|x||||")]
    [InlineData("a * b", "a||b|||")]
    [InlineData("a\\-b c", "a-b|c||||")]
    [InlineData("a | b", "a|||b||")]
    [InlineData("a b c | d", "a|b|c|d||")]
    [InlineData("1.~Three blind mice", "1. Three|blind|mice|||")]
    public void Syllables_are_given_to_notes(string words, string lyrics) => Assert.Equal(lyrics, Lyrics(Part($"CDE|FGA|\nw: {words}", "M:3/8\nL:1/8")));

    [Fact] // 5.1
    public void Words_may_follow_each_line_or_all_of_them()
    {
        var each = Part("C D E F|\nw: doh re mi fa\nG A B c|\nw: sol la ti doh", "M:2/4\nL:1/8");
        var all = Part("C D E F|\nG A B c|\nw: doh re mi fa sol la ti doh", "M:2/4\nL:1/8");

        Assert.Equal("doh|re|mi|fa|sol|la|ti|doh", Lyrics(each));
        Assert.Equal(Lyrics(each), Lyrics(all));
    }

    [Fact] // 5.1
    public void An_empty_line_of_words_passes_over_the_notes() =>
        Assert.Equal("doh|re|mi|fa|||||fa|mi|re|doh", Lyrics(Part("C D E F|\nw: doh re mi fa\nG G G G|\nw:\nF E F C|\nw: fa mi re doh", "M:2/4\nL:1/8")));

    [Fact] // 5.1 and 3.3
    public void Words_go_on_over_a_continued_field()
    {
        const string Music = "gf|e2dc B2A2|B2G2 E2D2|.G2.G2 GABc|d4 B2|";
        var part = Part($"{Music}\nw: Sa-ys my au-l' wan to your aul' wan,\n% legal\n%%vocalfont Times-Italic *\n+: Will~ye come to the Wa-x-ies dar-gle?");

        Assert.Equal(["Sa-", "ys", "my", "au-", "l'", "wan", "to", "your", "aul'", "wan,", "Will ye", "come", "to", "the", "Wa-", "x-", "ies", "dar-", "gle?"],
            part.Notes.Take(19).Select(n => n.Lyric));
    }

    [Fact] // 5.2
    public void Of_several_verses_the_first_stands_under_the_notes()
    {
        var outcome = Read("X:1\nM:4/4\nL:1/8\nK:C\nCDEF FEDC|\nw: these are the lyr-ics for verse one\nw: these are the lyr-ics for verse two\n");

        Assert.Equal("these|are|the|lyr-|ics|for|verse|one", Lyrics(outcome.Value.Parts[0]));
        Assert.Contains(outcome.Problems, p => p.What.Contains("further verse", StringComparison.Ordinal));
    }

    [Theory] // 10.6: before version 2.1 words belong to the line above them
    [InlineData("%abc-2.1\n", "these|are|lyr-|ics||||||||")]
    [InlineData("", "||||||||these|are|lyr-|ics")]
    public void Old_files_give_words_to_the_line_above(string version, string lyrics) =>
        Assert.Equal(lyrics, Lyrics(Read($"{version}X:1\nM:2/4\nL:1/8\nK:C\nCDEF|\nFEDC|\ncdef|]\nw:these are lyr-ics\n").Value.Parts[0]));

    [Theory] // 6.1.1
    [InlineData("abc cba|\\ % end of line comment\nabc cba|")]
    [InlineData("abc \\\ncba|abc cba|")]
    [InlineData("abc\\\n cba|abc cba|")]
    [InlineData("abc cba|\\\n\\\nabc cba|")]
    [InlineData("abc cba|$abc cba|")]
    public void Lines_may_be_broken_anywhere(string music) => Assert.Equal(Notes(Part("abc cba|abc cba|", "M:6/8")), Notes(Part(music, "M:6/8")));

    [Fact] // 12.1.1
    public void An_old_line_break_sign_is_no_music() => Assert.Equal("A4 B4 C5 F#4 E4 D4", Pitches(Part("ABc|!FED|]", "I:linebreak !\nM:3/8", "G")));

    [Theory] // 8.2
    [InlineData("T:Caf\\'e", "Café")]
    [InlineData("T:Caf\\u00e9", "Café")]
    [InlineData("T:Caf&eacute;", "Café")]
    [InlineData("T:100\\% % a comment", "100%")]
    [InlineData("T:\\\"Ubung \\AE \\ss \\cc \\vs", "Übung Æ ß ç š")]
    [InlineData("T:\\`a \\'A \\^e \\~n \\aa \\/o \\uE \\Hu \\oe", "à Á ê ñ å ø Ĕ ű œ")]
    [InlineData("T:\\\"w", "w")]
    [InlineData("T:gin & tonic", "gin & tonic")]
    public void Text_may_be_written_in_plain_letters(string field, string title) => Assert.Equal(title, Read($"X:1\n{field}\nK:C\nc|").Value.Title);

    [Fact] // 7
    public void Each_voice_becomes_a_part()
    {
        var score = Read(
            """
            %abc-2.1
            X:1
            T:Zocharti Loch
            C:Louis Lewandowski (1821-1894)
            M:C
            Q:1/4=76
            %%score (T1 T2) (B1 B2)
            V:T1           clef=treble-8  name="Tenore I"   snm="T.I"
            V:T2           clef=treble-8  name="Tenore II"  snm="T.II"
            V:B1  middle=d clef=bass      name="Basso I"    snm="B.I"  transpose=-24
            V:B2  middle=d clef=bass      name="Basso II"   snm="B.II" transpose=-24
            K:Gm
            %            End of header, start of tune body:
            % 1
            [V:T1]  (B2c2 d2g2)  | f6e2      | (d2c2 d2)e2 | d4 c2z2 |
            [V:T2]  (G2A2 B2e2)  | d6c2      | (B2A2 B2)c2 | B4 A2z2 |
            [V:B1]       z8      | z2f2 g2a2 | b2z2 z2 e2  | f4 f2z2 |
            [V:B2]       x8      |     x8    |      x8     |    x8   |
            % 5
            [V:T1]  (B2c2 d2g2)  | f8        | d3c (d2fe)  | H d6    ||
            [V:T2]       z8      |     z8    | B3A (B2c2)  | H A6    ||
            [V:B1]  (d2f2 b2e'2) | d'8       | g3g  g4     | H^f6    ||
            [V:B2]       x8      | z2B2 c2d2 | e3e (d2c2)  | H d6    ||
            """).Value;

        Assert.Equal(["Tenore I", "Tenore II", "Basso I", "Basso II"], score.Parts.Select(p => p.Name));
        Assert.Equal("Bb3 C4 D4 G4", string.Join(' ', score.Parts[0].Notes.Take(4).Select(n => n.Pitch)));
        Assert.Equal("F3 G3 A3 Bb3", string.Join(' ', score.Parts[2].Notes.Take(4).Select(n => n.Pitch)));
        Assert.Equal((Core.Units.Clef.TrebleOctaveDown, Core.Units.Clef.Bass), (score.Parts[0].Bars[0].Clefs[0].Clef, score.Parts[2].Bars[0].Clefs[0].Clef));
        Assert.All(score.Parts, p => Assert.Equal((8, 76.0), (p.Bars.Length, p.Bars[0].Tempos.Single().QuartersPerMinute!.Value)));
        Whole.Check(score);
    }

    [Fact] // 7.3
    public void Each_voice_has_its_own_meter_changes()
    {
        var score = Read("X:1\nM:4/4\nL:1/4\nK:C\n[V:1] C4|[M:3/4]CEG|Gce|\n[V:2] E4|[M:3/4]G3 |E3 |\n").Value;

        Assert.All(score.Parts, p => Assert.Equal([4, 3, 3], p.Bars.Select(b => b.Meter.Beats)));
    }

    [Theory] // 7.4
    [InlineData("A2 | c d e f g  a  &\\\nA A A A A  A  &\\\nF E D C B, A, |]", "M:6/8", "A4 C5 D5 E5 F5 G5 A5")]
    [InlineData("g4 f4 | e6 e2 |\n&& (d8    | c6) c2|", "M:4/4", "G5 F5 E5 E5")]
    public void A_voice_laid_over_the_bar_is_left_out(string music, string header, string pitches) => Assert.Equal(pitches, Pitches(Part(music, header)));

    [Fact] // 13.1, the second tune: upbeats at repeats, endings with other meters
    public void An_english_tune_reads_without_a_word_of_complaint()
    {
        var outcome = Read(
            """
            %abc-2.1
            H:This file contains some example English tunes
            % note that the comments (like this one) are to highlight usages
            O:England             % the origin of all tunes is England

            X:1                   % tune no 1
            T:Dusty Miller, The   % title
            T:Binny's Jig         % an alternative title
            C:Trad.               % traditional
            R:DH                  % double hornpipe
            M:3/4                 % meter
            K:G                   % key
            B>cd BAG|FA Ac BA|B>cd BAG|DG GB AG:|
            Bdd gfg|aA Ac BA|Bdd gfa|gG GB AG:|
            BG G/2G/2G BG|FA Ac BA|BG G/2G/2G BG|DG GB AG:|
            W:Hey, the dusty miller, and his dusty coat;

            X:2
            T:Old Sir Simon the King
            C:Trad.
            M:9/8
            K:G
            D|GFG GAG G2D|GFG GAG F2D|EFE EFE EFG|A2G F2E D2:|
            D|GAG GAB d2D|GAG GAB c2D|[1 EFE EFE EFG|A2G F2E D2:|\ % no line-break in score
            M:12/8                % change of meter
            [2 E2E EFE E2E EFG|\  % no line-break in score
            M:9/8                 % change of meter
            A2G F2E D2|]
            """, 2);

        Assert.Equal("Old Sir Simon the King", outcome.Value.Title);
        Assert.Equal(["The file names no clef at the start; the treble clef is taken."], outcome.Problems.Select(p => p.What));
        var line = Unfolder.Play(outcome.Value.Parts[0], "t").Value;
        Assert.Equal("0 1 2 3 4 0 1 2 3 4 4 5 6 7 8 4 5 6 9 10", string.Join(' ', line.Bars.Select(b => b.Number)));
        Whole.Check(outcome.Value);
    }

    [Fact] // 13.1, the first tune
    public void A_file_of_several_tunes_gives_the_first_and_says_so()
    {
        var outcome = Read("X:1\nT:Dusty Miller, The\nT:Binny's Jig\nC:Trad.\nM:3/4\nK:G\nB>cd BAG|\n\nX:2\nT:Other\nK:C\nC|\n");

        Assert.Equal(("Dusty Miller, The", "Binny's Jig", "Trad."), (outcome.Value.Title, outcome.Value.Subtitle, outcome.Value.Composer));
        Assert.Contains(outcome.Problems, p => p.What.Contains("2 tunes", StringComparison.Ordinal));
        Assert.False(Read("X:1\nK:C\nC|\n", 7).Succeeded);
    }

    [Theory]
    [InlineData("CDEF G)ABc|", "line 5, column 7", "A slur ends")]
    [InlineData("CDEF GA- |c8|", "line 5, column 7", "A tie leads")]
    [InlineData("CDEF GABc|\n  [CE]8|", "line 6, column 3", "A chord stands here")]
    [InlineData("CDEF GABc|\nCDE|CDEF GABc|", "line 6, column 1", "A bar is shorter")]
    [InlineData("C16|", "line 5, column 1", "A bar is longer")]
    [InlineData("C2000 C7|", "line 5, column 2", "A note length")]
    [InlineData("C,,,,,,, C7|", "line 5, column 1", "A pitch lies")]
    [InlineData("C4 \"Hm\" C4|", "line 5, column 4", "A chord symbol")]
    [InlineData("C4 §C4|", "line 5, column 4", "'§' is no sign")]
    [InlineData("(1abc c5|", "line 5, column 2", "A tuplet's numbers")]
    [InlineData("C4 [K:H] C4|", "line 5, column 4", "A key cannot be read")]
    [InlineData(">C8|", "line 5, column 1", "A sign for broken rhythm")]
    [InlineData("C8 & E8|", "line 5, column 4", "A second voice")]
    [InlineData("C4 [1 C4|", "line 5, column 4", "An ending begins inside")]
    public void A_problem_names_line_and_column(string music, string where, string what)
    {
        var outcome = Read($"X:1\nM:4/4\nL:1/8\nK:C\n{music}\n");

        Assert.Equal($"Melody, {where}", Assert.Single(outcome.Problems, p => p.What.StartsWith(what, StringComparison.Ordinal)).Where);
    }
}
