using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Abc.Tunes;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>The examples of the abc music standard 2.1 that concern one melody; the section stands beside each.</summary>
public class AbcStandardTests
{
    [Theory] // 3.1.14, the table of keys
    [InlineData("C#", "A#m", "G#Mix", "D#Dor", "E#Phr", "F#Lyd", "B#Loc", 7)]
    [InlineData("F#", "D#m", "C#Mix", "G#Dor", "A#Phr", "BLyd", "E#Loc", 6)]
    [InlineData("B", "G#m", "F#Mix", "C#Dor", "D#Phr", "ELyd", "A#Loc", 5)]
    [InlineData("E", "C#m", "BMix", "F#Dor", "G#Phr", "ALyd", "D#Loc", 4)]
    [InlineData("A", "F#m", "EMix", "BDor", "C#Phr", "DLyd", "G#Loc", 3)]
    [InlineData("D", "Bm", "AMix", "EDor", "F#Phr", "GLyd", "C#Loc", 2)]
    [InlineData("G", "Em", "DMix", "ADor", "BPhr", "CLyd", "F#Loc", 1)]
    [InlineData("C", "Am", "GMix", "DDor", "EPhr", "FLyd", "BLoc", 0)]
    [InlineData("F", "Dm", "CMix", "GDor", "APhr", "BbLyd", "ELoc", -1)]
    [InlineData("Bb", "Gm", "FMix", "CDor", "DPhr", "EbLyd", "ALoc", -2)]
    [InlineData("Eb", "Cm", "BbMix", "FDor", "GPhr", "AbLyd", "DLoc", -3)]
    [InlineData("Ab", "Fm", "EbMix", "BbDor", "CPhr", "DbLyd", "GLoc", -4)]
    [InlineData("Db", "Bbm", "AbMix", "EbDor", "FPhr", "GbLyd", "CLoc", -5)]
    [InlineData("Gb", "Ebm", "DbMix", "AbDor", "BbPhr", "CbLyd", "FLoc", -6)]
    [InlineData("Cb", "Abm", "GbMix", "DbDor", "EbPhr", "FbLyd", "BbLoc", -7)]
    public void Every_mode_of_a_row_has_the_same_signature(string major, string minor, string mix, string dor, string phr, string lyd, string loc, int fifths)
    {
        foreach (var key in (string[])[major, minor, mix, dor, phr, lyd, loc])
            Assert.Equal(new KeySignature(fifths, key == minor ? KeyMode.Minor : KeyMode.Major), Part("c8|", key: key).Bars[0].Key);
    }

    [Theory] // 3.1.14
    [InlineData("C major")]
    [InlineData("A minor")]
    [InlineData("C ionian")]
    [InlineData("A aeolian")]
    [InlineData("G mixolydian")]
    [InlineData("D dorian")]
    [InlineData("E phrygian")]
    [InlineData("F lydian")]
    [InlineData("B locrian")]
    [InlineData("none")]
    [InlineData("")]
    [InlineData("C exp")]
    public void These_keys_have_neither_sharps_nor_flats(string key) => Assert.Equal("F4 B4 C5 E5", Pitches(Part("FBce|", key: key)));

    [Theory] // 3.1.14
    [InlineData("F# mixolydian")]
    [InlineData("F#Mix")]
    [InlineData("F#MIX")]
    public void Only_three_letters_of_a_mode_count_and_their_case_does_not(string key) => Assert.Equal(5, Part("c8|", key: key).Bars[0].Key.Fifths);

    [Theory] // 3.1.14
    [InlineData("D Phr ^f", "D4 Eb4 F#4 G4 A4 Bb4 C5", 0)]
    [InlineData("D exp _b _e ^f", "D4 Eb4 F#4 G4 A4 Bb4 C5", 0)]
    [InlineData("D maj =c", "D4 E4 F#4 G4 A4 B4 C5", 1)]
    [InlineData("D =c", "D4 E4 F#4 G4 A4 B4 C5", 1)]
    [InlineData("HP", "D4 E4 F#4 G4 A4 B4 C#5", 0)]
    [InlineData("Hp", "D4 E4 F#4 G4 A4 B4 C#5", 2)]
    public void A_signature_of_its_own_alters_the_notes(string key, string pitches, int fifths)
    {
        var part = Part("DEFGABc|", key: key);

        Assert.Equal(pitches, Pitches(part));
        if (key.StartsWith("D Phr", StringComparison.Ordinal)) fifths = -2;
        Assert.Equal(fifths, part.Bars[0].Key.Fifths);
    }

    [Theory] // 3.1.6
    [InlineData("6/8", 6, 8, MeterSymbol.Numbers)]
    [InlineData("4/4", 4, 4, MeterSymbol.Numbers)]
    [InlineData("C", 4, 4, MeterSymbol.Common)]
    [InlineData("C|", 2, 2, MeterSymbol.Cut)]
    [InlineData("(2+3+2)/8", 7, 8, MeterSymbol.Numbers)]
    [InlineData("2+3+2/8", 7, 8, MeterSymbol.Numbers)]
    public void Meters_read(string field, int beats, int unit, MeterSymbol symbol)
    {
        var meter = Part("c|", $"M:{field}").Bars[0].Meter;

        Assert.Equal((beats, unit, symbol), (meter.Beats, meter.BeatUnit, meter.Symbol));
        Assert.Equal(field.Contains('+', StringComparison.Ordinal) ? [2, 3, 2] : [], meter.Groups);
    }

    [Theory] // 3.1.6 and 2.3.1
    [InlineData("M:none\n")]
    [InlineData("")]
    public void Without_a_meter_bars_are_as_long_as_their_notes(string field)
    {
        var part = Read($"X:1\n{field}L:1/4\nK:C\nCDE|FG|A|\n").Value.Parts[0];

        Assert.Equal("3 2 1", string.Join(' ', part.Bars.Select(b => b.Length)));
    }

    [Theory] // 3.1.7
    [InlineData("M:2/4", "1/4")]
    [InlineData("M:4/4", "1/2")]
    [InlineData("M:6/8", "1/2")]
    [InlineData("M:3/4", "1/2")]
    [InlineData("M:C|", "1/2")]
    [InlineData("M:none", "1/2")]
    [InlineData("M:4/4\nL:1", "4")]
    [InlineData("M:4/4\nL:1/1", "4")]
    [InlineData("M:4/4\nL:1/16", "1/4")]
    public void The_unit_note_length_is_given_or_follows_from_the_meter(string header, string length) => Assert.StartsWith(length + " ", Lengths(Part("cz|", header)), StringComparison.Ordinal);

    [Fact] // 3.1.7
    public void A_meter_change_leaves_the_unit_note_length() => Assert.Equal("1/2 1/2 1/2 1/2", string.Join(' ', Part("cccc cccc|[M:2/4]cccc|").Bars[1].Events.Select(e => e.Duration)));

    [Theory] // 3.1.8 and 10.1; the old forms count unit note lengths
    [InlineData("1/2=120", 240.0, "")]
    [InlineData("1/4 3/8 1/4 3/8=40", 200.0, "")]
    [InlineData("\"Allegro\" 1/4=120", 120.0, "Allegro")]
    [InlineData("3/8=50 \"Slowly\"", 75.0, "Slowly")]
    [InlineData("\"Andante\"", null, "Andante")]
    [InlineData("C=120", 60.0, "")]
    [InlineData("120", 60.0, "")]
    public void Tempos_read(string field, double? quarters, string words)
    {
        var tempo = Assert.Single(Part("c8|", $"M:4/4\nL:1/8\nQ:{field}").Bars[0].Tempos);

        Assert.Equal((quarters, words), (tempo.QuartersPerMinute, tempo.Words));
    }

    [Fact] // 2.2.5
    public void Comments_and_remarks_change_nothing() =>
        Assert.Equal(Notes(Part("|:DEF FED|\nDEF FED:|", "M:6/8")), Notes(Part("|:DEF FED| % this is an end of line comment\n% this is a comment line\nDEF [r:and this is a remark] FED:|", "M:6/8")));

    [Fact] // 2.3.1
    public void A_fragment_needs_no_header() => Assert.Equal("C4 D4 E4 F4 G4 A4 B4 C5", Pitches(Read("CDEF GABc|").Value.Parts[0]));

    [Fact] // 2.3.1
    public void A_fragment_may_have_some_of_a_header()
    {
        var score = Read("T:Major scale in D\nK:D\nDEFG ABcd|").Value;

        Assert.Equal(("Major scale in D", "D4 E4 F#4 G4 A4 B4 C#5 D5"), (score.Title, Pitches(score.Parts[0])));
    }

    [Fact] // 3.2
    public void A_field_changes_the_music_in_brackets_as_on_a_line_of_its_own()
    {
        var inline = Part("E2E EFE|E2E EFG|[M:9/8] A2G F2E D2|]", "M:6/8");
        var own = Part("E2E EFE|E2E EFG|\\\nM:9/8\nA2G F2E D2|]", "M:6/8");

        Assert.Equal(Notes(inline), Notes(own));
        Assert.Equal("6 6 9", string.Join(' ', inline.Bars.Select(b => b.Meter.Beats)));
        Assert.Equal("6 6 9", string.Join(' ', own.Bars.Select(b => b.Meter.Beats)));
    }

    [Fact] // 4.1
    public void Octave_marks_may_stand_in_any_mixture() => Assert.Equal("C3 C3 C5 C5 C4 C2 C6", Pitches(Part("C, C,', C' c C C,, c'|")));

    [Fact] // 4.2
    public void Accidentals_read() => Assert.Equal("C#4 D4 Eb4 F##4 Gbb4", Pitches(Part("^C =D _E ^^F __G|")));

    [Fact] // 11.3: by default in all octaves, up to the bar line
    public void An_accidental_holds_for_its_letter_to_the_bar_line() => Assert.Equal("F#4 F4 F#5 F4", Pitches(Part("^F =F ^f|F|")));

    [Theory] // 11.3
    [InlineData("pitch", "F#4 F#5 F#4 F4")]
    [InlineData("octave", "F#4 F5 F#4 F4")]
    [InlineData("not", "F#4 F5 F4 F4")]
    public void How_far_an_accidental_reaches_can_be_said(string reach, string pitches) => Assert.Equal(pitches, Pitches(Part("^F f F|F|", $"%%propagate-accidentals {reach}\nM:4/4")));

    [Theory] // 4.3
    [InlineData("L:1/16", "A A1 A2 A3 A4 A6 A7 A8 A12 A14 A15", "1/4 1/4 1/2 3/4 1 3/2 7/4 2 3 7/2 15/4")]
    [InlineData("L:1/8", "A A2 A3 A4", "1/2 1 3/2 2")]
    [InlineData("L:1/8", "A/2 A3/2 A/4 A/ A//", "1/4 3/4 1/8 1/4 1/8")]
    public void Note_lengths_read(string unit, string music, string lengths) => Assert.Equal(lengths, Lengths(Part(music + "|", $"M:none\n{unit}")));

    [Fact] // 4.4
    public void Broken_rhythm_reads_in_three_ways()
    {
        var plain = Notes(Part("a3b cd3 a2b2c2d2|", "M:4/4\nL:1/16"));

        Assert.Equal(plain, Notes(Part("a3/2b/2 c/2d3/2 abcd|")));
        Assert.Equal(plain, Notes(Part("a>b c<d abcd|")));
    }

    [Theory] // 4.4
    [InlineData("a>>b", "7/8 1/8")]
    [InlineData("a>>>b", "15/16 1/16")]
    [InlineData("a<<b", "1/8 7/8")]
    [InlineData("a<<<b", "1/16 15/16")]
    public void More_strokes_break_the_rhythm_further(string music, string lengths) => Assert.Equal(lengths, Lengths(Part(music + "|", "M:none\nL:1/8")));

    [Fact] // 4.5
    public void Rests_of_several_bars_are_bars_of_rest() =>
        Assert.Equal(Notes(Part("z4|z4|z4|z4|CD EF|GA Bc|", "M:4/4\nL:1/4")), Notes(Part("Z4|CD EF|GA Bc|", "M:4/4\nL:1/4")));

    [Fact] // 4.5
    public void A_bar_rest_without_a_number_is_one_bar_shown_or_not() => Assert.Equal("r 4, r 4, r 2, C4 2", Notes(Part("Z|X|x4 C4|")));

    [Theory] // 4.6
    [InlineData("C clef=alto", Clef.Alto)]
    [InlineData("alto", Clef.Alto)]
    [InlineData("C treble", Clef.Treble)]
    [InlineData("C bass", Clef.Bass)]
    [InlineData("C tenor", Clef.Tenor)]
    [InlineData("C clef=bass-8", Clef.BassOctaveDown)]
    [InlineData("C treble-8", Clef.TrebleOctaveDown)]
    [InlineData("C bass3", Clef.Bass)]
    public void Clefs_read(string key, Clef clef) => Assert.Equal(clef, Part("C8|", key: key).Bars[0].Clefs[0].Clef);

    [Fact] // 4.6
    public void A_transposed_voice_sounds_elsewhere_than_it_stands()
    {
        var part = Part("CDE2|", key: "C transpose=-2");

        Assert.Equal(("Bb3 C4 D4", -2, Interval.MajorSecond), (Pitches(part), part.Bars[0].Key.Fifths, part.Transposition));
    }

    [Fact] // 4.6
    public void The_middle_line_moves_the_print_and_not_the_sound()
    {
        var part = Part("d2|", key: "bass middle=d transpose=-24");

        Assert.Equal(("D3", Interval.Unison), (Pitches(part), part.Transposition));
    }

    [Fact] // 4.6 and 7.1
    public void A_clef_with_an_eight_and_an_octave_move_the_sound()
    {
        Assert.Equal("C3", Pitches(Part("C2|", key: "C treble-8")));
        Assert.Equal("C3", Pitches(Part("C2|", key: "C octave=-1")));
        Assert.Equal("C4", Pitches(Part("C2|", key: "C clef=bass")));
    }

    [Fact] // 4.7
    public void Spaces_and_back_quotes_say_nothing_about_time() => Assert.Equal(Notes(Part("A2BC|", "M:2/4")), Notes(Part("A2``B``C|", "M:2/4")));
}
