using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Notation;

namespace Seamwright.Tests.Engraving;

/// <summary>Common practice of notation: accidentals and beams.</summary>
public class NotationRuleTests
{
    [Fact]
    public void An_accidental_holds_to_the_bar_line_in_its_own_octave_and_is_recalled_in_the_next_bar()
    {
        var a = new Accidentals();
        a.StartBar(new KeySignature(1));
        Assert.Equal(AccidentalPrint.Printed, Next(a, "F3"));
        Assert.Equal(AccidentalPrint.Silent, Next(a, "F3"));
        Assert.Equal(AccidentalPrint.Reminder, Next(a, "F#2"));
        Assert.Equal(AccidentalPrint.Printed, Next(a, "F#3"));
        Assert.Equal(AccidentalPrint.Printed, Next(a, "F3"));
        a.StartBar(new KeySignature(1));
        Assert.Equal(AccidentalPrint.Reminder, Next(a, "F#3"));
        Assert.Equal(AccidentalPrint.Silent, Next(a, "F#3"));
    }

    [Fact]
    public void A_tie_carries_an_accidental_over_the_bar_line_for_its_own_note_only()
    {
        var a = new Accidentals();
        a.StartBar(default);
        Assert.Equal(AccidentalPrint.Printed, Next(a, "Ab3"));
        a.StartBar(default);
        Assert.Equal(AccidentalPrint.Silent, a.Next(Pitch.Parse("Ab3"), tiedFromBefore: true, courtesy: false));
        Assert.Equal(AccidentalPrint.Printed, Next(a, "Ab3"));
    }

    [Fact]
    public void A_new_signature_ends_the_old_one() => Assert.Equal(AccidentalPrint.Silent, NextAfterChange());

    [Theory]
    [InlineData("meter=4/4 C3:8 D3:8 E3:8 F3:8 G3:8 A3:8 B3:8 C4:8", "11112222")]
    [InlineData("meter=4/4 C3:8 D3:16 E3:16 F3:8 G3:8 A3:4 B3:8 C4:8", "11122033")]
    [InlineData("meter=3/4 C3:8 D3:8 E3:8 F3:8 G3:8 A3:8", "112233")]
    [InlineData("meter=6/8 C3:8 D3:8 E3:8 F3:8 G3:8 A3:8", "111222")]
    [InlineData("meter=6/8 C3:4 D3:8 E3:8 F3:8 G3:8", "00111")]
    [InlineData("meter=5/8 C3:8 D3:8 E3:8 F3:8 G3:8", "11122")]
    [InlineData("meter=7/8 C3:8 D3:8 E3:8 F3:8 G3:8 A3:8 B3:8", "1122333")]
    [InlineData("meter=2/2 C3:8 D3:8 E3:8 F3:8 G3:2", "11110")]
    [InlineData("meter=2/4 C3:8 r:8 D3:8 E3:8", "0011")]
    [InlineData("meter=4/4 C3:8 D3:4 E3:8 F3:4 G3:4", "00000")]
    public void Beams_show_the_beats(string text, string beams)
    {
        var bar = PartBuilder.Parse("", text).Bars[0];
        Assert.Equal(beams, string.Concat(Beaming.Of(bar.Events, bar.Meter, Beats.Zero)));
    }

    [Fact]
    public void A_pickup_is_beamed_as_the_end_of_a_bar()
    {
        var bar = PartBuilder.Parse("", "meter=6/8 C3:8 D3:8 E3:8 F3:8").Bars[0];
        Assert.Equal("0111", string.Concat(Beaming.Of(bar.Events, bar.Meter, new Beats(1, 1))));
    }

    private static AccidentalPrint Next(Accidentals a, string pitch) => a.Next(Pitch.Parse(pitch), tiedFromBefore: false, courtesy: false);

    private static AccidentalPrint NextAfterChange()
    {
        var a = new Accidentals();
        a.StartBar(new KeySignature(-3));
        a.StartBar(new KeySignature(2));
        return Next(a, "F#3");
    }
}
