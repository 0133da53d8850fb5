using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Pack;
using Seamwright.Studio.Features.Practice;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Books;

/// <summary>Makes a stored book: its exercises, its pages, its play-alongs.</summary>
internal sealed class BookBinder(PracticeMaker maker, IEngraver engraver, Works works)
{
    // Engraving takes about as long as sounding.
    private const double Half = 0.5;

    /// <summary>The book as a PDF.</summary>
    /// <param name="book">At least one line.</param>
    /// <param name="tell">Hears how far it is.</param>
    public WorkEnd Print(StoredBook book, Action<double> tell)
    {
        var entries = Entries(book);
        if (!entries.Succeeded) return new() { Problems = [.. entries.Problems] };
        var bound = entries.Value.Select(e => e.Entry).ToList();
        var printed = new BookMaker(engraver).Make(bound, Look(book, bound), tell);
        var file = works.NewFile(".pdf");
        using (var pdf = File.Create(file)) printed.WritePdf(pdf);
        return new() { File = new(file, "application/pdf", $"{book.Title}.pdf") };
    }

    /// <summary>Exercises by themselves, without a cover.</summary>
    public WorkEnd Print(string title, IEnumerable<Exercise> exercises, Action<double> tell)
    {
        var printed = new BookMaker(engraver).Make([.. exercises.Select(e => new BookEntry(e))], new BookOptions { Title = title, HasFront = false }, tell);
        var file = works.NewFile(".pdf");
        using (var pdf = File.Create(file)) printed.WritePdf(pdf);
        return new() { File = new(file, "application/pdf", $"{title}.pdf") };
    }

    /// <summary>Book, play-alongs and music in one zip.</summary>
    public WorkEnd Pack(StoredBook book, Action<double> tell)
    {
        var entries = Entries(book);
        if (!entries.Succeeded) return new() { Problems = [.. entries.Problems] };
        var bound = entries.Value.Select(e => e.Entry).ToList();
        var look = Look(book, bound);
        var printed = new BookMaker(engraver).Make(bound, look, done => tell(Half * done));
        using var sounds = new SoundFolder(works.Folder);
        var failed = sounds.Fill([.. entries.Value.Select(e => (e.Entry.Exercise, e.Settings))], ".opus", new BookSound(), done => tell(Half + (Half * done)));
        if (failed.Count > 0) return new() { Problems = failed };
        var file = works.NewFile(".zip");
        using (var zip = File.Create(file)) new BookPack([.. bound], look, printed, sounds.Made).Write(zip);
        return new() { File = new(file, "application/zip", $"{book.Title}.zip") };
    }

    // A line that cannot be made any more, since a piece or a player went, is an error: a teacher would miss it otherwise.
    private Outcome<List<(BookEntry Entry, PlanSettings Settings)>> Entries(StoredBook book)
    {
        var (entries, wrong) = (new List<(BookEntry Entry, PlanSettings Settings)>(), new List<Problem>());
        foreach (var (line, i) in book.Card.Lines.Select((l, i) => (l, i)))
        {
            var wish = PracticeWish.Read(line.Wish);
            var made = maker.Make(wish);
            if (!made.Succeeded) wrong.AddRange(made.Problems.Select(p => p with { Where = $"line {i + 1}, {maker.Words(wish)}: {p.Where}", Severity = Severity.Error }));
            else entries.AddRange(made.Value.Exercises.Select((e, n) => (new BookEntry(e, n == 0 ? line.Chapter : ""), maker.PupilOf(wish).Value.Settings)));
        }

        if (wrong.Count > 0) return Outcome<List<(BookEntry Entry, PlanSettings Settings)>>.Failed(wrong);
        var again = SameMusic.In([.. entries.Select(e => e.Entry.Exercise)]).Select(s => s.Again).ToHashSet();
        return Outcome<List<(BookEntry Entry, PlanSettings Settings)>>.Of([.. entries.Where((_, i) => !again.Contains(i))]);
    }

    private static BookOptions Look(StoredBook book, List<BookEntry> entries)
    {
        var horns = entries.Select(e => e.Exercise.Plan.Instrument.Name).Distinct().ToList();
        return new BookOptions
        {
            Title = book.Title,
            Header = book.Card.Header,
            For = book.Card.For,
            Date = book.Card.Date,
            Paper = book.Card.Letter ? Paper.Letter : Paper.A4,
            Instrument = horns.Count == 1 ? horns[0] : "",
            RepeatsWords = !book.Card.FewWords,
            MusicSize = entries.Max(e => e.Exercise.Level) <= 2 ? 1 : 0.88,
        };
    }
}
