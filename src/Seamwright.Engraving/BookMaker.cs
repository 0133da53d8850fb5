using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Engraving.Book;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pdf;

namespace Seamwright.Engraving;

/// <summary>Makes a book, or a few sheets, out of exercises.</summary>
/// <param name="engraver">Kept by the caller, for as many books as wanted.</param>
/// <param name="files">Where the fonts lie; null for those beside the program.</param>
public sealed class BookMaker(IEngraver engraver, EngraverFiles? files = null)
{
    /// <summary>Engraves and binds exercises. Pages are painted as they are filled, so that memory does not grow with their number by more
    /// than the PDF itself.</summary>
    /// <param name="entries">At least one, in the order of the book.</param>
    /// <param name="options">Null for the defaults.</param>
    /// <param name="progress">Is told the share done, 0 to 1; what it throws stops the work.</param>
    /// <exception cref="EngravingException">The engraver or a font is missing on this computer, or the engraver gave up.</exception>
    public PrintedBook Make(IReadOnlyList<BookEntry> entries, BookOptions? options = null, Action<double>? progress = null)
    {
        ArgumentOutOfRangeException.ThrowIfZero(entries.Count);
        options = Plain(options ?? new());
        var (fonts, size) = (SheetFonts.From((files ?? EngraverFiles.Default).Fonts), PageSize.Of(options.Paper));
        using var binder = new PdfBinder(size, fonts);
        return new BookBinding(engraver, [.. entries.Select(e => e with { Chapter = PlainText.OneLine(e.Chapter) })], options, size, fonts, binder).Bind(progress ?? (_ => { }));
    }

    private static BookOptions Plain(BookOptions o) => o with
    {
        Title = PlainText.OneLine(o.Title),
        Header = PlainText.OneLine(o.Header),
        For = PlainText.OneLine(o.For),
        Instrument = PlainText.OneLine(o.Instrument),
        Date = PlainText.OneLine(o.Date),
        Syllable = PlainText.Short(o.Syllable, 8),
        MusicSize = Math.Clamp(o.MusicSize, 0.7, 1.2),
    };
}

/// <summary>A finished book.</summary>
public sealed class PrintedBook
{
    private readonly byte[] pdf;

    internal PrintedBook(PdfBinder binder, BookWords words, ImmutableArray<ImmutableArray<int>> pages, ImmutableArray<Problem> problems)
    {
        (Pages, PagesOf, Problems) = (binder.Count, pages, problems);
        using var saved = new MemoryStream();
        binder.Save(saved, words, created: null);
        pdf = saved.ToArray();
    }

    public int Pages { get; }

    /// <summary>For each exercise, in order, the numbers of the pages it stands on, from 1.</summary>
    public ImmutableArray<ImmutableArray<int>> PagesOf { get; }

    /// <summary>What could not be printed as asked.</summary>
    public ImmutableArray<Problem> Problems { get; }

    /// <summary>Writes the PDF: text that can be searched, a bookmark for each exercise, no date. The same book gives the same bytes.</summary>
    /// <param name="output">Written to and left open.</param>
    public void WritePdf(Stream output) => output.Write(pdf);
}
