using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Tests.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class PhrasesTests
{
    [Fact]
    public void Breaths_and_rests_end_phrases()
    {
        var line = Parts.Of(Parts.Melody("evening-ferry")).Line;
        var phrases = Phrases.Of(line);
        Assert.Equal("1-4 5-8 1-4 5-9 10-11 12-14 15-16", string.Join(' ', phrases.Select(p => $"{line.Notes[p.FirstNote].Bar}-{line.Notes[p.LastNote].Bar}")));
    }

    [Theory]
    [InlineData(1, "0-4 4-8 8-12 12-16")]
    [InlineData(2, "0-8 8-16")]
    [InlineData(3, "0-12 12-16")]
    [InlineData(9, "0-16")]
    public void Whole_bars_are_cut_as_asked(int bars, string expected)
    {
        var line = Parts.Of(Parts.Written("4/4", N("C3", 48), N("D3", 48), N("E3", 48), N("F3", 48))).Line;
        Assert.Equal(expected, string.Join(' ', Phrases.Of(line, bars).Select(p => $"{p.From}-{p.To}")));
    }

    [Fact]
    public void A_piece_with_an_upbeat_has_one_before_every_phrase()
    {
        var line = Parts.Of(Parts.Written("4/4",
            $"<measure number=\"0\" implicit=\"yes\">START{N("C3", 12)}</measure>",
            N("D3", 24) + N("E3", 24), N("F3", 36) + N("C3", 12), N("D3", 24) + N("E3", 24), N("F3", 36))).Line;
        Assert.Equal("0-8 8-16", string.Join(' ', Phrases.Of(line, 2).Select(p => $"{p.From}-{p.To}")));
    }

    [Fact]
    public void A_note_held_over_the_bar_line_is_not_cut()
    {
        var line = Parts.Of(Parts.Written("4/4", N("C3", 36) + Tied("D3", 12), N("D3", 12).Replace("<voice>", "<tie type=\"stop\"/><voice>") + N("E3", 36))).Line;
        Assert.Equal("0-5 5-8", string.Join(' ', Phrases.Of(line, 1).Select(p => $"{p.From}-{p.To}")));
    }

    [Fact]
    public void A_rest_belongs_to_the_phrase_before_it()
    {
        var line = Parts.Of(Parts.Written("4/4", N("C3", 48), N("D3", 24) + R(24), N("E3", 48), N("F3", 48))).Line;
        Assert.Equal("0-8 8-16", string.Join(' ', Phrases.Of(line).Select(p => $"{p.From}-{p.To}")));
    }

    [Fact]
    public void Every_melody_falls_into_phrases_without_gaps_of_a_bar_to_six()
    {
        foreach (var name in Seamwright.Tests.Cli.CommandLine.Melodies().Select(f => Path.GetFileNameWithoutExtension(f)!).Where(n => !n.EndsWith("bass")))
        {
            var line = Parts.Of(Parts.Melody(name)).Line;
            var phrases = Phrases.Of(line);
            Assert.Equal(Beats.Zero, phrases[0].From);
            Assert.Equal(line.Bars[^1].End, phrases[^1].To);
            Assert.All(phrases.Zip(phrases.Skip(1)), p => Assert.True(p.First.To == p.Second.From && p.First.LastNote + 1 == p.Second.FirstNote, name));
            Assert.All(phrases, p => Assert.InRange((p.To - p.From).ToDouble() / line.Bars[1].Length.ToDouble(), 0.99, 6));
        }
    }

    private static string Tied(string pitch, int duration) => N(pitch, duration).Replace("<voice>", "<tie type=\"start\"/><voice>");
}
