using System.Xml.Linq;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>A PDF that grows page by page; pages can be painted in any order, so that what is painted need not be kept.</summary>
internal sealed class PdfBinder : IDisposable
{
    // PDFsharp keeps fonts in tables of the whole process.
    private static readonly Lock Gate = new();
    private readonly PdfDocument document = new();
    private readonly PdfGlyphs glyphs = new();
    private readonly PageSize size;
    private readonly SheetFonts fonts;
    private readonly Stack<PdfOutline> chapters = new();

    public PdfBinder(PageSize size, SheetFonts fonts)
    {
        (this.size, this.fonts) = (size, fonts);
        lock (Gate) PdfFonts.Register(fonts);
    }

    public int Count => document.PageCount;

    /// <summary>Adds an empty page.</summary>
    /// <returns>Its index, from 0.</returns>
    public int Add()
    {
        lock (Gate)
        {
            var page = document.AddPage();
            page.Width = XUnit.FromPoint(size.Width / PageSize.Point);
            page.Height = XUnit.FromPoint(size.Height / PageSize.Point);
            return document.PageCount - 1;
        }
    }

    /// <summary>Paints a composed page.</summary>
    public void Paint(int page, XElement svg)
    {
        lock (Gate)
        {
            using var canvas = XGraphics.FromPdfPage(document.Pages[page]);
            canvas.ScaleTransform(1 / PageSize.Point);
            new SvgPainter(canvas, fonts, glyphs).Paint(svg);
        }
    }

    /// <summary>Adds a bookmark behind those there are.</summary>
    /// <param name="title">As shown.</param>
    /// <param name="page">Index it leads to.</param>
    /// <param name="top">Where on it, from its upper edge, in hundredths of a millimetre.</param>
    /// <param name="isChapter">Whether what follows, up to the next chapter, stands under it.</param>
    /// <param name="standsAlone">Whether it ends the chapter before.</param>
    public void Bookmark(string title, int page, double top, bool isChapter = false, bool standsAlone = false)
    {
        lock (Gate)
        {
            if (isChapter || standsAlone) chapters.Clear();
            var under = chapters.TryPeek(out var chapter) ? chapter.Outlines : document.Outlines;
            var made = under.Add(title, document.Pages[page], opened: true);
            made.PageDestinationType = PdfPageDestinationType.Xyz;
            (made.Left, made.Top) = (0, (size.Height - top) / PageSize.Point);
            if (isChapter) chapters.Push(made);
        }
    }

    /// <summary>Makes a place on a page lead to another page.</summary>
    /// <param name="page">Index of the page it stands on.</param>
    /// <param name="place">In hundredths of a millimetre from the upper left corner.</param>
    /// <param name="target">Index of the page it leads to.</param>
    public void Link(int page, Box place, int target)
    {
        lock (Gate)
        {
            var (left, bottom) = (place.Left / PageSize.Point, (size.Height - place.Bottom) / PageSize.Point);
            var area = new PdfRectangle(new XRect(left, bottom, (place.Right - place.Left) / PageSize.Point, (place.Bottom - place.Top) / PageSize.Point));
            var link = document.Pages[page].AddDocumentLink(area, target + 1);

            // Drawn by lot and by the clock; neither is needed.
            link.Elements.Remove("/NM");
            link.Elements.Remove("/M");
        }
    }

    /// <summary>Writes everything: the same pages give the same bytes.</summary>
    /// <param name="output">Left open.</param>
    /// <param name="words">What the document says about itself.</param>
    /// <param name="created">Its date; null for none.</param>
    public void Save(Stream output, BookWords words, DateTimeOffset? created)
    {
        lock (Gate)
        {
            Describe(words, created);
            using var saved = new MemoryStream();
            document.Save(saved, closeStream: false);
            output.Write(SteadyPdf.Of(saved.ToArray()));
        }
    }

    public void Dispose()
    {
        lock (Gate) document.Dispose();
    }

    private void Describe(BookWords words, DateTimeOffset? created)
    {
        document.Info.Title = words.Title;
        document.Info.Author = words.Author;
        document.Info.Creator = "Seamwright";
        document.Info.Subject = words.Subject;
        if (created is { } date) document.Info.CreationDate = date.UtcDateTime;
        else document.Info.Elements.Remove("/CreationDate");
    }
}
