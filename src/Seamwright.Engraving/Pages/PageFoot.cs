using System.Xml.Linq;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pages;

/// <summary>The foot of every page and the running head of all but the first.</summary>
internal static class PageFoot
{
    /// <summary>Common practice of the trade, and what surveys of players advise: about three in four trombonists had pain in the
    /// past year (Wallace, Klinge and Chesky, MPPA 2016).</summary>
    private static readonly string[] Cautions =
    [
        "Rest as long as you play.",
        "Stop when it hurts: ask your teacher, and a doctor for pain that stays.",
    ];

    private const double Small = 7.5 * PageSize.Point;

    public static XElement Foot(SheetWords words, PageSize size, int page, int pages)
    {
        var foot = Print.Group("foot");
        var y = size.Height - 850.0;
        foot.Add(Print.Text(Face.Page, Small, PageSize.Side, y, "Engraved by Seamwright"));
        foot.Add(Print.Text(Face.Page, 9 * PageSize.Point, size.Right, y, $"{page} / {pages}", "end"));
        if (page == pages && words.Cautions)
        {
            for (var i = 0; i < Cautions.Length; i++)
                foot.Add(Print.Text(Face.PageItalic, 8.5 * PageSize.Point, PageSize.Side, y - (1.45 * Small * (Cautions.Length - i)) - 60, Cautions[i]));
        }

        return foot;
    }

    public static XElement RunningHead(SheetWords words, PageSize size, SheetFonts fonts)
    {
        const double Em = 9 * PageSize.Point;
        var text = string.Join("  ·  ", new[] { words.Title, words.Instrument }.Where(t => t.Length > 0));
        var line = text.Length == 0 ? "" : TextWrap.Lines(text, size.TextWidth, 1, t => fonts.Width(Face.Page, Em, t))[0];
        return Print.Group("head", Print.Text(Face.Page, Em, PageSize.Side, 1150, line), PageHead.Stitches(PageSize.Side, size.Right, 1330));
    }
}
