using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pdf;

/// <summary>What a PDF says about itself.</summary>
internal sealed record BookWords(string Title, string Author, string Subject);

/// <summary>Binds composed pages into one PDF.</summary>
internal static class PdfBook
{
    public static void Write(Stream output, ImmutableArray<XDocument> pages, PageSize size, SheetFonts fonts, BookWords words, DateTimeOffset? created)
    {
        using var binder = new PdfBinder(size, fonts);
        foreach (var page in pages) binder.Paint(binder.Add(), page.Root!);
        binder.Save(output, words, created);
    }
}
