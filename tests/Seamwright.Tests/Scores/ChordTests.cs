using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class ChordTests
{
    [Fact]
    public void Root_kind_bass_degrees_and_offset_are_read()
    {
        var part = ReadPart(
            H("B", -1, "major") + N("Bb2", 24) + H("F", 0, "dominant", "<bass><bass-step>E</bass-step><bass-alter>-1</bass-alter></bass><degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree><offset>12</offset>") + N("F3", 24),
            "<harmony><root><root-step>C</root-step></root><kind>none</kind></harmony>" + N("D3", 48));

        Assert.Equal(["0 Bb", "3 F7(addb9)/Eb"], part.Bars[0].Chords.Select(c => $"{c.Offset} {c.Chord}"));
        Assert.Null(Assert.Single(part.Bars[1].Chords).Chord);
    }

    [Fact]
    public void An_inversion_names_its_bass() =>
        Assert.Equal(new PitchName(Step.E, 0), ReadPart(H("C", 0, "major", "<inversion>1</inversion>") + N("C3", 48)).Bars[0].Chords.Single().Chord!.Bass);

    [Fact]
    public void Chords_of_a_transposed_part_come_down_to_concert_pitch()
    {
        var transposed = Start.Replace("<clef>", "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose><clef>", StringComparison.Ordinal);
        var chord = ReadPart(transposed + H("C", 0, "major-seventh") + N("C3", 48)).Bars[0].Chords.Single().Chord!;
        Assert.Equal("Bbmaj7", chord.ToString());
    }

    [Fact]
    public void A_kind_nobody_can_voice_is_told_and_left_out()
    {
        var read = Read(Partwise(H("C", 0, "Tristan") + N("C3", 48)));
        Assert.Empty(read.Value.Parts[0].Bars[0].Chords);
        Assert.Contains(read.Problems, p => p.What.Contains("Tristan", StringComparison.Ordinal));
    }

    [Fact]
    public void A_part_without_symbols_takes_those_of_its_neighbour()
    {
        var xml = Partwise(H("C", 0, "minor") + N("C3", 48))
            .Replace("</part-list>", "<score-part id=\"P2\"><part-name>Second</part-name></score-part></part-list>", StringComparison.Ordinal)
            .Replace("</part>", $"</part><part id=\"P2\"><measure number=\"1\">{Start}{N("E3", 48)}</measure></part>", StringComparison.Ordinal);
        Assert.Equal(["Cm", "Cm"], Read(xml).Value.Parts.Select(p => p.Bars[0].Chords.Single().Chord!.ToString()));
    }

    [Fact]
    public void Chords_follow_the_repeats_and_going_back_restores_what_was_in_force()
    {
        var part = ReadPart(
            H("C", 0, "major") + N("C3", 48),
            "<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + N("D3", 24) + H("G", 0, "dominant") + N("D3", 24) + Repeat("backward"),
            N("C3", 48));
        Assert.Equal(["0 C", "6 G7", "8 C", "10 G7"], Play(part).Chords.Select(c => $"{c.Start} {c.Chord}"));
    }

    [Theory]
    [InlineData(ChordKind.Dominant, "0 4 7 10")]
    [InlineData(ChordKind.HalfDiminished, "0 3 6 10")]
    [InlineData(ChordKind.SuspendedFourth, "0 5 7")]
    [InlineData(ChordKind.MinorNinth, "0 3 7 10 14")]
    public void A_kind_has_its_tones(ChordKind kind, string semitones) =>
        Assert.Equal(semitones, string.Join(' ', new Chord(new PitchName(Step.C, 0), kind).Tones.Select(t => t.Semitones)));

    [Fact]
    public void Degrees_add_alter_and_remove()
    {
        var chord = new Chord(new PitchName(Step.C, 0), ChordKind.Dominant)
        {
            Degrees = [new ChordDegree(9, -1, DegreeChange.Add), new ChordDegree(5, 1, DegreeChange.Alter), new ChordDegree(3, 0, DegreeChange.Remove)],
        };
        Assert.Equal([0, 8, 10, 13], chord.Tones.Select(t => t.Semitones));
    }

    private static string H(string step, int alter, string kind, string more = "") =>
        $"<harmony><root><root-step>{step}</root-step><root-alter>{alter}</root-alter></root><kind>{kind}</kind>{more}</harmony>";
}
