using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pdf;

namespace Seamwright.Engraving.Book;

/// <summary>Binds one book: front pages are laid out first, left empty, and painted when it is known where every exercise stands.</summary>
internal sealed class BookBinding
{
    private const double TitlePoints = 18;
    private readonly IReadOnlyList<BookEntry> entries;
    private readonly BookOptions options;
    private readonly PageSize size;
    private readonly SheetFonts fonts;
    private readonly ExercisePrint print;
    private readonly BookSheet sheet;
    private readonly HowToRead howTo;
    private BookFront front;
    private readonly PdfBinder binder;
    private readonly List<int>[] pagesOf;
    private int current;

    public BookBinding(IEngraver engraver, IReadOnlyList<BookEntry> entries, BookOptions options, PageSize size, SheetFonts fonts, PdfBinder binder)
    {
        (this.entries, this.options, this.size, this.fonts, this.binder) = (entries, options, size, fonts, binder);
        (print, sheet) = (new ExercisePrint(engraver, options, size, fonts, options.HasFront || entries.Count > 1), new BookSheet(options, size, fonts));
        howTo = new HowToRead(LegendOf(), size, fonts);
        front = new BookFront(entries, howTo.Blocks(TitlePoints), size, fonts, sheet.Bottom);
        pagesOf = [.. entries.Select(_ => new List<int>())];
    }

    /// <summary>Does it.</summary>
    public PrintedBook Bind(Action<double> progress)
    {
        var flow = new BookFlow(BookSheet.Top, sheet.Bottom);
        var ahead = Engraved(0);
        try
        {
            for (var i = 0; i < entries.Count; i++)
            {
                var pieces = ahead.GetAwaiter().GetResult();
                if (i == 0) Begin(flow, pieces);
                if (i + 1 < entries.Count) ahead = Engraved(i + 1);
                foreach (var page in flow.Add(pieces)) Paint(page);
                progress((i + 1.0) / entries.Count);
            }
        }
        finally
        {
            // Whoever stops this may put the engraver away: nothing uses it any more when it is known.
            Task.WhenAny(ahead).GetAwaiter().GetResult();
        }

        if (flow.Filler is { } left) flow.Add([left]).ForEach(Paint);
        flow.Finish().ForEach(Paint);
        if (options.HasFront) PaintFront();
        return new PrintedBook(binder, new BookWords(options.Title, options.Header, "Trombone exercises"), [.. pagesOf.Select(p => p.ToImmutableArray())], [.. Unprintable()]);
    }

    // Signs are explained before anyone meets them: under the contents, else above the first exercise, else on a page of their own, in larger
    // letters. Sheets without a front say it where a page has room.
    private void Begin(BookFlow flow, IReadOnlyList<Piece> first)
    {
        if (!options.HasFront)
        {
            flow.Filler = howTo.AsPiece(12);
            return;
        }

        if (!front.HoldsHowTo)
        {
            var piece = howTo.AsPiece(TitlePoints);
            var isAbove = flow.HasRoomFor([piece, .. first]);
            if (isAbove) flow.Add([piece]);
            front = new BookFront(entries, isAbove ? [] : howTo.Larger.Blocks(TitlePoints), size, fonts, sheet.Bottom);
        }

        AddFront();
    }

    // One exercise is engraved while the one before is painted; never two at a time, for each knows which words were told before it.
    private Task<IReadOnlyList<Piece>> Engraved(int entry) => Task.Run(() => print.Pieces(entries[entry].Exercise, entry, new BookFlow(BookSheet.Top, sheet.Bottom).HasRoomFor));

    private ImmutableArray<LegendEntry> LegendOf()
    {
        var guides = entries.SelectMany(e => print.Guides(e.Exercise).Values).ToHashSet();
        return Legend.For(guides, entries[0].Exercise.Plan, options.Syllable);
    }

    private void AddFront()
    {
        var pages = front.Pages(_ => 100);
        binder.Add();
        for (var i = 0; i < pages.Length; i++) binder.Add();
        binder.Bookmark("Contents", 1, 0, standsAlone: true);
    }

    private void Paint(IReadOnlyList<PlacedPiece> pieces)
    {
        var page = binder.Add();
        binder.Paint(page, sheet.Of(pieces, page + 1));
        foreach (var (piece, y) in pieces)
        {
            if (piece.Entry is { } entry)
            {
                current = entry;
                if (entries[entry].Chapter.Length > 0) binder.Bookmark(entries[entry].Chapter, page, y - 200, isChapter: true);
                binder.Bookmark($"{entry + 1}  {PlainText.OneLine(entries[entry].Exercise.Title)}", page, y - 200);
            }

            if ((piece.Entry ?? (piece.Shapes is null ? null : current)) is not null && !pagesOf[current].Contains(page + 1)) pagesOf[current].Add(page + 1);
        }
    }

    private void PaintFront()
    {
        binder.Paint(0, sheet.Of(new BookCover(options, size, fonts).Drawings(Inside()), number: null));
        var pages = front.Pages(i => pagesOf[i][0]);
        for (var i = 0; i < pages.Length; i++) binder.Paint(i + 1, sheet.Of(pages[i], i + 2));
        foreach (var link in front.Links(pages)) binder.Link(link.Page + 1, link.Place, pagesOf[link.Entry][0] - 1);
    }

    private string Inside()
    {
        var exercises = entries.Select(e => e.Exercise).ToList();
        var (low, high) = (exercises.Min(e => e.Level), exercises.Max(e => e.Level));
        var levels = low == high ? $"level {low}" : $"levels {low} to {high}";
        var count = exercises.Count == 1 ? "One exercise" : $"{exercises.Count} exercises";
        return $"{count}, {levels}; about {Lasting(exercises.Sum(e => e.Minutes))} of practice with rests.";
    }

    private static string Lasting(double minutes) => minutes switch
    {
        < 1.5 => "a minute",
        < 90 => $"{minutes:0} minutes",
        _ => $"{minutes / 60:0.#} hours",
    };

    private IEnumerable<Problem> Unprintable() => MissingSigns.In(
        fonts, "The PDF leaves it out.", ("title", options.Title), ("header", options.Header), ("name", options.For), ("instrument", options.Instrument), ("date", options.Date));
}
