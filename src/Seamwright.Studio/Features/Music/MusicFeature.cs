using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Music;

/// <summary>The music in the workbench: list, search, add, tag, rename, remove and bring back.</summary>
internal static class MusicFeature
{
    private const int LongestTitle = 200, LongestTag = 40, MostTags = 12;

    public static void MapMusic(this IEndpointRouteBuilder app)
    {
        app.MapGet("/", (Pieces pieces, string? search, string? undo) => Pages.Of<MusicPage>(new
        {
            Pieces = pieces.List(search ?? ""),
            Search = search ?? "",
            Undo = Ids(undo).ToList(),
        }));
        app.MapPost("/music/add", Add).DisableAntiforgery();

        // Where a refused file was told; whoever comes back to that address wants the list.
        app.MapGet("/music/add", () => Pages.Go("/"));
        app.MapPost("/music/{id:long}/rename", Rename).DisableAntiforgery();
        app.MapPost("/music/{id:long}/copy", (Pieces pieces, long id) =>
            pieces.Find(id) is { } piece ? Pages.Go($"/music/{pieces.Copy(piece, TitleOfCopy(piece, pieces.List()))}") : Pages.NotFound()).DisableAntiforgery();
        app.MapPost("/music/{id:long}/remove", (Pieces pieces, long id) =>
        {
            pieces.Remove(id);
            return Pages.Go($"/?undo={id}");
        }).DisableAntiforgery();
        app.MapPost("/music/remove-demo", (Pieces pieces) => Pages.Go($"/?undo={string.Join(',', pieces.RemoveDemo())}")).DisableAntiforgery();
        app.MapPost("/music/restore", async (HttpRequest request, Pieces pieces) =>
        {
            foreach (var id in Ids((await request.ReadFormAsync())["ids"])) pieces.Restore(id);
            return Pages.Go("/");
        }).DisableAntiforgery();
    }

    private static async Task<IResult> Add(HttpRequest request, Pieces pieces, StudioSettings settings)
    {
        if (!request.HasFormContentType) return Pages.Problem(StatusCodes.Status400BadRequest, "No file came", "Choose a file of music, or drop it on the page.");
        var files = (await request.ReadFormAsync()).Files;
        if (files.Count == 0) return Pages.Problem(StatusCodes.Status400BadRequest, "No file came", "Choose a file of music, or drop it on the page.");
        List<Problem> problems = [];
        List<long> added = [];
        foreach (var file in files)
        {
            if (file.Length > settings.LargestMusic)
            {
                problems.Add(new(file.FileName, $"is larger than {settings.LargestMusic / 1_000_000} MB.", "Export the part alone.", Severity.Error));
                continue;
            }

            using var content = new MemoryStream();
            await file.CopyToAsync(content);
            var read = PieceFile.Read(content.ToArray(), file.FileName);
            if (!read.Succeeded) problems.AddRange(read.Problems);
            else if (pieces.Same(content.ToArray()) is { } known)
                problems.Add(new(file.FileName, $"was here already, as “{known.Title}”: nothing was added.", "For a second one with settings of its own make a copy, under “Its card” on its page.", Severity.Note));
            else added.Add(pieces.Add(PieceFile.TitleOf(read.Value, file.FileName), read.Value.Composer, file.FileName, content.ToArray()));
        }

        if (problems.Count > 0 && added.Count > 0) problems.Add(new("the others", added.Count == 1 ? "came in: 1 piece." : $"came in: {added.Count} pieces.", "They stand in the list.", Severity.Note));
        if (problems.Count > 0) return Pages.Of<MusicPage>(new { Pieces = pieces.List(), Problems = problems }, problems.Any(p => p.Severity == Severity.Error) ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);
        return Pages.Go(files.Count == 1 ? $"/music/{added[0]}" : "/");
    }

    private static async Task<IResult> Rename(HttpRequest request, Pieces pieces, long id)
    {
        var form = await request.ReadFormAsync();
        var title = form["title"].ToString().Trim();
        if (pieces.Find(id) is not { } piece) return Pages.NotFound();
        if (title.Length is 0 or > LongestTitle) return Pages.Problem(StatusCodes.Status400BadRequest, "A piece needs a name", $"Give a title of 1 to {LongestTitle} letters.");
        var tags = form["tags"].ToString().Split([',', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Where(t => t.Length <= LongestTag).Take(MostTags);
        if (title != piece.Title) pieces.Rename(id, title);
        pieces.Tag(id, tags);
        return Pages.Go($"/music/{id}");
    }

    // One that none has yet.
    private static string TitleOfCopy(Store.Piece piece, IReadOnlyList<Store.Piece> all) =>
        Enumerable.Range(1, all.Count + 1).Select(n => $"{piece.Title}, {(n == 1 ? "copy" : $"copy {n}")}").First(t => all.All(p => p.Title != t));

    private static IEnumerable<long> Ids(string? text) => (text ?? "").Split(',').Select(t => long.TryParse(t, NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? id : 0).Where(id => id > 0);
}
