using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Books;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Practice;

/// <summary>Exercises to order: seen, printed, or kept among the music so that they are played along with, recorded and judged.</summary>
internal static class PracticeFeature
{
    public static void MapPractice(this IEndpointRouteBuilder app)
    {
        app.MapGet("/practice", (HttpRequest request, Pieces pieces, Horns horns, Players players, Store.Books books, PracticeMaker maker, IEngraver engraver) =>
        {
            var wish = PracticeWish.From(request.Query);
            var made = wish.Kind.Length == 0 ? null : maker.Make(wish);
            var narrow = Width.IsNarrow(request);
            var naming = maker.PupilOf(wish) is { Succeeded: true } pupil && made is not null ? pupil.Value.Naming : NoteNaming.Current;
            return Pages.Named(naming, () => Pages.Of<PracticePage>(
                new { Wish = wish, Pieces = pieces.List(), Horns = horns.Choices(), Players = players.List(), Books = books.List(), Made = made, Music = made is { Succeeded: true } ? Engraved(made.Value, engraver, narrow) : [], Narrow = narrow },
                made is { Succeeded: false } ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK));
        });
        app.MapPost("/practice/print", (HttpRequest request, PracticeMaker maker, BookBinder binder, Works works) => Print(PracticeWish.From(request.Query), maker, binder, works)).DisableAntiforgery();
        app.MapPost("/practice/keep", (HttpRequest request, Pieces pieces, PracticeMaker maker, int exercise) => Keep(PracticeWish.From(request.Query), exercise, pieces, maker)).DisableAntiforgery();
    }

    // What a page bears; the book has all of them.
    private const int MostShown = 6;

    private static List<(Exercise Exercise, ScreenMusic Music)> Engraved(ExerciseSet made, IEngraver engraver, bool narrow) => Engraved(made.Exercises.Take(MostShown), engraver, narrow);

    /// <summary>Exercises with their music for a screen.</summary>
    public static List<(Exercise Exercise, ScreenMusic Music)> Engraved(IEnumerable<Exercise> exercises, IEngraver engraver, bool narrow) =>
        [.. exercises.Select(e => (e, new ScreenMaker(engraver).Make(e.Part, e.Plan, new SheetOptions(), narrow ? PieceBody.NarrowWidth : PieceBody.WideWidth)))];

    private static async Task<IResult> Print(PracticeWish wish, PracticeMaker maker, BookBinder binder, Works works)
    {
        var made = maker.Make(wish);
        if (!made.Succeeded) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "These exercises cannot be made", [.. made.Problems.Select(p => p.ToString())]);
        var one = new StoredBook(0, made.Value.Exercises.Length == 1 ? made.Value.Exercises[0].Title : "Exercises", new BookCard { For = maker.NameOf(wish), Lines = [new("", wish.Query)] });
        return await WorkingFeature.Run(works, "Printing the exercises", $"/practice?{wish.Query}", (tell, _) => Task.FromResult(binder.Print(one, tell)));
    }

    private static IResult Keep(PracticeWish wish, int index, Pieces pieces, PracticeMaker maker)
    {
        var made = maker.Make(wish);
        if (!made.Succeeded || index < 0 || index >= made.Value.Exercises.Length) return Pages.NotFound();
        return Pages.Go($"/music/{Kept(made.Value.Exercises[index], pieces, maker.SettingsOf(wish))}");
    }

    /// <summary>Puts an exercise among the music, tagged as one.</summary>
    /// <returns>Its id.</returns>
    public static long Kept(Exercise exercise, Pieces pieces, PieceSettings settings)
    {
        using var file = new MemoryStream();
        MusicXmlWriter.Write(exercise.Score, null, file);
        var id = pieces.Add(exercise.Title, "", $"{exercise.Id}.musicxml", file.ToArray());
        pieces.Tag(id, ["exercise"]);
        pieces.SaveSettings(id, settings.Write());
        return id;
    }
}
