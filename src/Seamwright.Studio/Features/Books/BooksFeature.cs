using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Studio.Features.Practice;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Books;

/// <summary>Books of exercises: collected on the practice page, put in order here, printed, and packed with sound and music.</summary>
internal static class BooksFeature
{
    private const int LongestText = 200, MostLines = 200;

    public static void MapBooks(this IEndpointRouteBuilder app)
    {
        app.MapGet("/books", (Store.Books books, long? undo) => Pages.Of<BooksPage>(new { Books = books.List(), Undo = undo }));
        app.MapGet("/books/{id:long}", (Store.Books books, long id) => books.Find(id) is { } book ? Pages.Of<BookPage>(new { Book = book }) : Pages.NotFound());
        app.MapPost("/books/add", Add).DisableAntiforgery();
        app.MapPost("/books/{id:long}", Change).DisableAntiforgery();
        app.MapPost("/books/{id:long}/line/{index:int}", Line).DisableAntiforgery();
        app.MapPost("/books/{id:long}/remove", (Store.Books books, long id) =>
        {
            books.Remove(id);
            return Pages.Go($"/books?undo={id}");
        }).DisableAntiforgery();
        app.MapPost("/books/{id:long}/restore", (Store.Books books, long id) =>
        {
            books.Restore(id);
            return Pages.Go("/books");
        }).DisableAntiforgery();
        app.MapPost("/books/{id:long}/print", (Store.Books books, BookBinder binder, Works works, long id) => Bind(books, works, id, "Printing the book", (book, tell, _) => binder.Print(book, tell))).DisableAntiforgery();
        app.MapPost("/books/{id:long}/pack", (Store.Books books, BookBinder binder, Works works, long id) => Bind(books, works, id, "Packing the book with its play-alongs", (book, tell, _) => binder.Pack(book, tell))).DisableAntiforgery();
    }

    private static async Task<IResult> Bind(Store.Books books, Works works, long id, string title, Func<StoredBook, Action<double>, CancellationToken, WorkEnd> make)
    {
        if (books.Find(id) is not { } book) return Pages.NotFound();
        if (book.Card.Lines.IsEmpty) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This book is empty", "Choose exercises on the practice page and put them in.");
        return await WorkingFeature.Run(works, title, $"/books/{id}", (tell, stop) => Task.FromResult(make(book, tell, stop)));
    }

    private static async Task<IResult> Add(HttpRequest request, Store.Books books, PracticeMaker maker)
    {
        var form = await request.ReadFormAsync();
        var wish = PracticeWish.From(request.Query);
        if (maker.Make(wish) is { Succeeded: false } wrong) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "These exercises cannot be made", [.. wrong.Problems.Select(p => p.ToString())]);
        var line = new BookLine("", wish.Query);
        if (long.TryParse(form["book"], NumberStyles.None, CultureInfo.InvariantCulture, out var id) && books.Find(id) is { } book)
        {
            if (book.Card.Lines.Length >= MostLines) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This book is full", $"A book holds {MostLines} lines: begin another.");
            books.Save(id, book.Title, book.Card with { Lines = book.Card.Lines.Add(line) });
        }
        else
        {
            id = books.Add("Exercises", new BookCard { For = maker.NameOf(wish), Lines = [line] });
        }

        return Pages.Go($"/books/{id}");
    }

    private static async Task<IResult> Change(HttpRequest request, Store.Books books, long id)
    {
        if (books.Find(id) is not { } book) return Pages.NotFound();
        var form = await request.ReadFormAsync();
        var fields = new FormFields(form);
        var card = book.Card with
        {
            Header = fields.Text("header", LongestText, book.Card.Header),
            For = fields.Text("for", LongestText, book.Card.For),
            Date = fields.Text("date", LongestText, book.Card.Date),
            Letter = form["paper"] == "letter",
            FewWords = form["few-words"] == "on",
        };
        var title = fields.Text("title", LongestText, book.Title) is { Length: > 0 } given ? given : book.Title;
        books.Save(id, title, card);
        return fields.Problems.Count == 0
            ? Pages.Go($"/books/{id}")
            : Pages.Of<BookPage>(new { Book = book with { Title = title, Card = card }, Problems = (IReadOnlyList<Core.Problem>)fields.Problems }, StatusCodes.Status422UnprocessableEntity);
    }

    // Up, down, out of the book, or a chapter's heading.
    private static async Task<IResult> Line(HttpRequest request, Store.Books books, long id, int index)
    {
        if (books.Find(id) is not { } book || index < 0 || index >= book.Card.Lines.Length) return Pages.NotFound();
        var form = await request.ReadFormAsync();
        var lines = book.Card.Lines;
        var line = lines[index] with { Chapter = new FormFields(form).Text("chapter", LongestText, lines[index].Chapter) };
        lines = form["do"].ToString() switch
        {
            "up" when index > 0 => lines.RemoveAt(index).Insert(index - 1, line),
            "down" when index < lines.Length - 1 => lines.RemoveAt(index).Insert(index + 1, line),
            "out" => lines.RemoveAt(index),
            _ => lines.SetItem(index, line),
        };
        books.Save(id, book.Title, book.Card with { Lines = lines });
        return Pages.Go($"/books/{id}");
    }
}
