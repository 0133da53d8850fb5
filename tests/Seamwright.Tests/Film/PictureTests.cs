using System.Globalization;
using System.Text;
using System.Xml.Linq;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pictures;
using Seamwright.Tests.Engraving;

namespace Seamwright.Tests.Film;

public class PictureTests
{
    private static Picture Paint(string body, int width = 20, int height = 20) =>
        new PicturePainter(SharedEngraver.Fonts).Paint(XElement.Parse($"<g xmlns='http://www.w3.org/2000/svg'>{body}</g>"), width, height, Transform.None, Ink.Black);

    private static double Covered(Picture picture) => Enumerable.Range(0, picture.Height).Sum(y => Enumerable.Range(0, picture.Width).Sum(x => (double)picture.Row(y)[(4 * x) + 3])) / 255;

    [Theory]
    [InlineData("<path d='M3.3 2.7 L15.1 2.7 L15.1 9.2 L3.3 9.2 Z'/>", 11.8 * 6.5)]
    [InlineData("<polygon points='2,2 18,4 7,17'/>", 115)]
    [InlineData("<ellipse cx='10' cy='10' rx='7' ry='4'/>", Math.PI * 28)]
    [InlineData("<path d='M-5 5 L25 5 L25 8.5 L-5 8.5 Z'/>", 20 * 3.5)]
    [InlineData("<path d='M2 2 L18 2 L18 18 L2 18 Z M6 6 L6 14 L14 14 L14 6 Z'/>", 256 - 64)]
    [InlineData("<path d='M4 10 L16 10' fill='none' stroke='#000000' stroke-width='3'/>", 36)]
    [InlineData("<g transform='translate(2, 3) scale(2, 2)'><rect x='1' y='1' width='4' height='3'/></g>", 48)]
    public void A_shape_covers_exactly_its_area(string body, double area) => Assert.Equal(area, Covered(Paint(body)), 0.02 * area);

    [Fact]
    public void A_stroke_that_comes_back_on_itself_is_inked_once_and_its_corner_is_round()
    {
        var crossed = Paint("<path d='M2 10 L18 10 L10 10 L2 10' fill='none' stroke='#000000' stroke-width='4'/>");
        Assert.Equal((16 * 4) + (Math.PI * 4 / 2), Covered(crossed), 0.5);
    }

    [Fact]
    public void Colours_lie_over_one_another()
    {
        var picture = Paint("<rect x='0' y='0' width='20' height='20' fill='#0069a4'/><rect x='5' y='5' width='10' height='10' fill='#faf7f0'/>");
        Assert.Equal([0, 0x69, 0xa4, 255], picture.Row(2)[8..12].ToArray());
        Assert.Equal([0xfa, 0xf7, 0xf0, 255], picture.Row(10)[40..44].ToArray());
    }

    [Fact]
    public void A_page_looks_as_another_program_shows_its_pdf()
    {
        if (!OutsideProgram.IsInstalled("pdftoppm")) Assert.Skip("reason: pdftoppm is missing; install poppler-utils.");
        const int Dpi = 110;
        var part = PartBuilder.Parse("Trombone", TestParts.Texts["song"]);
        var sheet = SharedEngraver.Sheet(part, TestPlans.For(part));
        var (width, height, grey) = Grey(Tool.Pictures(SharedEngraver.Pdf(sheet), Dpi)[0]);
        var page = new PicturePainter(SharedEngraver.Fonts).Paint(XElement.Parse(sheet.Pages[0]), width, height, new Transform(Dpi / 2540.0, 0, 0, Dpi / 2540.0, 0, 0), Ink.Black);

        // Both are blurred over squares of four dots: an edge may fall half a dot to either side.
        var (far, inked) = (0, 0);
        for (var y = 0; y + 4 <= height; y += 4)
        {
            for (var x = 0; x + 4 <= width; x += 4)
            {
                var (theirs, ours) = (0, 0);
                for (var i = 0; i < 16; i++) theirs += grey[((y + (i / 4)) * width) + x + (i % 4)];
                for (var i = 0; i < 16; i++) ours += 255 - page.Row(y + (i / 4))[(4 * (x + (i % 4))) + 3];
                if (theirs < 16 * 200) inked++;
                if (Math.Abs(theirs - ours) > 16 * 70) far++;
            }
        }

        Assert.True(inked > 1500, $"{inked} squares with ink");
        Assert.True(far < 0.02 * inked, $"{far} of {inked} squares with ink differ");
    }

    private static (int Width, int Height, byte[] Grey) Grey(byte[] pgm)
    {
        var (words, at) = (new List<string>(), 0);
        while (words.Count < 4)
        {
            var end = Array.FindIndex(pgm, at, b => b is (byte)' ' or (byte)'\n');
            words.Add(Encoding.ASCII.GetString(pgm, at, end - at));
            at = end + 1;
        }

        return (int.Parse(words[1], CultureInfo.InvariantCulture), int.Parse(words[2], CultureInfo.InvariantCulture), pgm[at..]);
    }
}
