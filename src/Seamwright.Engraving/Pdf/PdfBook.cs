using System.Collections.Immutable;
using System.Xml.Linq;
using PdfSharp.Drawing;
using PdfSharp.Pdf;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>What a PDF says about itself.</summary>
internal sealed record BookWords(string Title, string Author, string Subject);

/// <summary>Binds composed pages into one PDF.</summary>
internal static class PdfBook
{
    // PDFsharp keeps fonts in tables of the whole process.
    private static readonly Lock Gate = new();

    public static void Write(Stream output, ImmutableArray<XDocument> pages, PageSize size, SheetFonts fonts, BookWords words, DateTimeOffset? created)
    {
        lock (Gate)
        {
            PdfFonts.Register(fonts);
            using var document = new PdfDocument();
            var glyphs = new PdfGlyphs();
            foreach (var page in pages) Add(document, page.Root!, size, fonts, glyphs);
            Describe(document, words, created);
            using var saved = new MemoryStream();
            document.Save(saved, closeStream: false);
            output.Write(SteadyPdf.Of(saved.ToArray()));
        }
    }

    private static void Add(PdfDocument document, XElement svg, PageSize size, SheetFonts fonts, PdfGlyphs glyphs)
    {
        var page = document.AddPage();
        page.Width = XUnit.FromPoint(size.Width / PageSize.Point);
        page.Height = XUnit.FromPoint(size.Height / PageSize.Point);
        using var canvas = XGraphics.FromPdfPage(page);
        canvas.ScaleTransform(1 / PageSize.Point);
        new SvgPainter(canvas, fonts, glyphs).Paint(svg);
    }

    private static void Describe(PdfDocument document, BookWords words, DateTimeOffset? created)
    {
        document.Info.Title = words.Title;
        document.Info.Author = words.Author;
        document.Info.Creator = "Seamwright";
        document.Info.Subject = words.Subject;
        if (created is { } date) document.Info.CreationDate = date.UtcDateTime;
        else document.Info.Elements.Remove("/CreationDate");
    }
}
