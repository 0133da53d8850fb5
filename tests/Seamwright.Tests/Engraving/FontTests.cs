using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Tests.Engraving;

public class FontTests
{
    /// <summary>Widths of Times-Roman in the Adobe Core 14 font metrics: Tinos is drawn to the same widths.</summary>
    [Theory]
    [InlineData("i", 0.278)]
    [InlineData("M", 0.889)]
    [InlineData("4", 0.500)]
    [InlineData("du", 1.000)]
    public void The_music_face_is_as_wide_as_times(string text, double em) =>
        Assert.Equal(em, SharedEngraver.Fonts.Width(Face.Music, 1, text), 0.001);

    [Fact]
    public void A_sign_the_face_lacks_comes_from_another_face()
    {
        var runs = SharedEngraver.Fonts.Runs(Face.MusicBold, "F♭2");
        Assert.Equal(["F", "♭", "2"], runs.Select(r => r.Text));
        Assert.Equal("Tinos-Bold", runs[0].Typeface.Name);
        Assert.StartsWith("DejaVu", runs[1].Typeface.Name);
    }

    [Fact]
    public void Lines_break_at_spaces_and_the_last_one_is_cut()
    {
        static double Width(string t) => t.Length;
        Assert.Equal(["one two", "three", "four…"], TextWrap.Lines("one two three four five", 7, 3, Width));
        Assert.Equal(["short"], TextWrap.Lines("short", 7, 3, Width));
        Assert.Equal(["WWWWWWW", "WWW"], TextWrap.Lines("WWWWWWWWWW", 7, 3, Width));
    }

    [Fact]
    public void Relative_smooth_and_quadratic_path_steps_arrive_where_they_should()
    {
        var steps = PathData.Read("M10 10l5-5c0 10 10 10 10 0s10-10 10 0q5 5 10 0h5v-5zm1 1L2,3");
        Assert.Equal(new Spot(50, 0), steps[^4].To);
        Assert.Equal(new Spot(10, 10), steps[^3].To);
        Assert.Equal(new Spot(11, 11), steps[^2].To);
        Assert.Equal(new Spot(2, 3), steps[^1].To);
        Assert.Equal(new Spot(25, -5), steps[3].A);
    }

    [Fact]
    public void Transforms_apply_from_the_inside_out()
    {
        var t = Transform.Read("translate(100, 50) scale(2) rotate(90)");
        var p = t.Of(10, 0);
        Assert.Equal(100, p.X, 9);
        Assert.Equal(70, p.Y, 9);
    }
}
