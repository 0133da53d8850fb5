using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Annotations;
using UglyToad.PdfPig.Outline;

namespace Seamwright.Tests.Engraving;

public class BookTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Default, level: 4);

    private static readonly ImmutableArray<KeyName> AllKeys = [.. TwelveKeys.For(Scale.Find("major")!).Select(t => new KeyName(t, null))];

    private static ImmutableArray<Exercise> Made(ExerciseOrder order) => ExerciseMaker.Make(order, Grown).Value.Exercises;

    private static List<BookEntry> Mixed() =>
    [
        .. Made(new() { Kind = "one-note" }).Select(e => new BookEntry(e, "Tone")),
        .. Made(new() { Kind = "three-passes", Keys = AllKeys, Register = Register.Middle }).Select((e, i) => new BookEntry(e, i == 0 ? "Scales" : "")),
        .. Made(new() { Kind = "two-notes", Positions = (1, 3), Tempos = [60, 72] }).Select(e => new BookEntry(e, "Tongue")),
        .. Made(new() { Kind = "two-notes", Positions = (1, 2), Tempos = [60, 72] }).Select(e => new BookEntry(e)),
    ];

    private static (PrintedBook Book, PdfDocument Pdf, byte[] Bytes) Bound(IReadOnlyList<BookEntry> entries, BookOptions? options = null)
    {
        var book = new BookMaker(SharedEngraver.Instance).Make(entries, options ?? new() { Title = "Joined and clear", For = "Mira" });
        using var stream = new MemoryStream();
        book.WritePdf(stream);
        return (book, PdfDocument.Open(stream.ToArray()), stream.ToArray());
    }

    private static string Text(PdfDocument pdf, int page) => string.Join(' ', pdf.GetPage(page).GetWords().Select(w => w.Text));

    [Fact]
    public void Every_exercise_stands_where_contents_bookmarks_and_links_say()
    {
        var entries = Mixed();
        var (book, pdf, _) = Bound(entries);
        using (pdf)
        {
            Assert.Equal(pdf.NumberOfPages, book.Pages);
            Assert.True(pdf.TryGetBookmarks(out var bookmarks));
            var marks = bookmarks.GetNodes().OfType<DocumentBookmarkNode>().ToList();
            Assert.Equal(["Tone", "Scales", "Tongue"], bookmarks.Roots.Skip(1).Select(r => r.Title));
            for (var i = 0; i < entries.Count; i++)
            {
                var title = $"{i + 1}. {entries[i].Exercise.Title}";
                Assert.Contains(title, Text(pdf, book.PagesOf[i][0]));
                Assert.Contains(marks, m => m.Title == $"{i + 1}  {entries[i].Exercise.Title}" && m.PageNumber == book.PagesOf[i][0]);
            }

            var links = pdf.GetPage(2).GetAnnotations().Where(a => a.Type == AnnotationType.Link).OrderByDescending(a => a.Rectangle.Top).Select(a => ((UglyToad.PdfPig.Actions.GoToAction)a.Action!).Destination.PageNumber);
            Assert.Equal(book.PagesOf.Select(p => p[0]), links);
        }
    }

    [Fact]
    public void An_exercise_that_fits_a_page_is_never_parted()
    {
        var (book, pdf, _) = Bound(Mixed());
        pdf.Dispose();
        Assert.All(book.PagesOf, p => Assert.Single(p));
        Assert.Equal(book.PagesOf.Select(p => p[0]).Order(), book.PagesOf.Select(p => p[0]));
    }

    [Fact]
    public void A_long_exercise_is_turned_where_a_section_begins()
    {
        var exercise = Made(new() { Kind = "one-note", Touches = [2, 4, 3, 2, 4, 3, 2, 4, 3, 2, 4, 3, 2, 4, 3, 2] })[0];
        var (book, pdf, _) = Bound([new(Made(new() { Kind = "two-notes", Positions = (1, 2) })[0]), new(exercise)]);
        using (pdf)
        {
            Assert.True(book.PagesOf[1].Length > 1);
            Assert.DoesNotContain(book.PagesOf[0][0], book.PagesOf[1]);
            Assert.All(book.PagesOf[1].Skip(1), p => Assert.StartsWith("Touch lightly,", Text(pdf, p)));
            Assert.Contains("Rest as long", Text(pdf, book.PagesOf[1][^1]));
        }
    }

    [Theory]
    [InlineData(Paper.A4)]
    [InlineData(Paper.Letter)]
    public void The_same_book_has_the_same_bytes_and_no_date(Paper paper)
    {
        var options = new BookOptions { Paper = paper, Title = "Twice", Image = Picture() };
        var (_, pdf, first) = Bound(Mixed(), options);
        var (_, again, second) = Bound(Mixed(), options);
        using (pdf) Assert.Null(pdf.Information.CreationDate);
        again.Dispose();
        Assert.Equal(first, second);
    }

    [Fact]
    public void Cover_contents_signs_and_care_can_be_read_by_another_program()
    {
        if (!OutsideProgram.IsInstalled("pdftotext")) Assert.Skip("pdftotext is missing: install poppler-utils.");
        var (_, pdf, bytes) = Bound(Mixed(), new() { Title = "Joined and clear", Header = "School by the weir", For = "Mira", Date = "Autumn", Instrument = "Tenor trombone" });
        pdf.Dispose();
        var text = Tool.PdfToText(bytes);
        string[] wanted = ["School by the weir", "Joined and clear", "for Mira", "Autumn", "Tenor trombone", "Contents", "How to read these sheets", "slide position", "Rest as long as you play", "E♭ major in three passes", "♩ = 60", "Level", "B♭2 to B♭3"];
        Assert.All(wanted, w => Assert.Contains(w, text));
        Assert.Equal(1, text.Split("Brass practised alone").Length - 1);
    }

    [Fact]
    public void Loose_sheets_have_no_front_and_explain_their_signs_at_the_end()
    {
        var (book, pdf, _) = Bound(Made(new() { Kind = "three-passes" }).Select(e => new BookEntry(e)).ToList(), new() { HasFront = false });
        using (pdf)
        {
            Assert.Equal(1, book.Pages);
            Assert.StartsWith("D♭ major in three passes", Text(pdf, 1));
            Assert.Contains("How to read", Text(pdf, 1));
        }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(34)]
    public void Signs_are_explained_before_the_first_exercise(int count)
    {
        // Few lines of contents leave room under them; a page of them leaves none, and neither does a long first exercise.
        var first = Made(new() { Kind = "one-note", Touches = [2, 3, 4, 2, 3] })[0];
        var entries = Enumerable.Repeat(first, count).Select(e => new BookEntry(e)).ToList();
        var (book, pdf, _) = Bound(entries);
        using (pdf)
        {
            var page = Enumerable.Range(1, pdf.NumberOfPages).Single(p => Text(pdf, p).Contains("How to read these sheets", StringComparison.Ordinal));
            Assert.True(page < book.PagesOf[0][0], $"signs on page {page}, the first exercise on {book.PagesOf[0][0]}");
            Assert.Equal(count == 3 ? 2 : 3, page);
        }
    }

    [Fact]
    public void Words_that_were_told_before_can_be_left_out()
    {
        var entries = Made(new() { Kind = "three-passes", Keys = AllKeys }).Select(e => new BookEntry(e)).ToList();
        var (full, first, _) = Bound(entries);
        var (brief, second, _) = Bound(entries, new() { RepeatsWords = false });
        using (second) Assert.Contains("Practise it as number 1.", Text(second, brief.PagesOf[1][0]));
        Assert.True(brief.Pages <= full.Pages, $"{brief.Pages} and {full.Pages} pages");

        // Else they stand once on every page, above its first exercise, and the others name that one.
        using (first)
        {
            foreach (var page in full.PagesOf.Select((p, i) => (Page: p[0], Entry: i)).GroupBy(p => p.Page))
            {
                var text = Text(first, page.Key);
                Assert.Single(System.Text.RegularExpressions.Regex.Matches(text, "The slide alone, then the slide in time"));
                Assert.Equal(page.Count() - 1, System.Text.RegularExpressions.Regex.Count(text, $"Practise it as number {page.Min(p => p.Entry) + 1}\\."));
            }
        }
    }

    [Fact]
    public void A_picture_that_is_none_is_told()
    {
        Assert.False(BookImage.Read(new MemoryStream([1, 2, 3]), "x.png").Succeeded);
        Assert.False(BookImage.Read(new MemoryStream([0x89, 0x50, 0x4E, 0x47, 13, 10, 26, 10, 0, 0]), "x.png").Succeeded);
        Assert.Equal((1, 1), (Picture().Width, Picture().Height));
    }

    // One dot, made by hand.
    private static BookImage Picture() => BookImage.Read(
        new MemoryStream(Convert.FromBase64String("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC")), "dot.png").Value;

    [Fact]
    public void Signs_are_explained_on_a_page_with_something_else()
    {
        // Behind contents that leave no room for it, and without contents.
        var small = Made(new() { Kind = "two-notes", Positions = (1, 2), Tempos = [60] })[0];
        foreach (var (count, hasFront) in new[] { (16, true), (5, false) })
        {
            var (_, pdf, _) = Bound([.. Enumerable.Range(1, count).Select(i => new BookEntry(small, $"Chapter {i}"))], new() { Title = "Signs", HasFront = hasFront });
            using (pdf)
            {
                var page = Enumerable.Range(1, pdf.NumberOfPages).Single(p => Text(pdf, p).Contains("How to read these sheets", StringComparison.Ordinal));
                Assert.Contains("with rests", Text(pdf, page));
                Assert.DoesNotContain("Contents", Text(pdf, page));
            }
        }
    }
}
