using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;
using Seamwright.Audio;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Record;

/// <summary>Takes recordings in: from a microphone piece by piece, or as a file.</summary>
internal static class RecordingFeature
{
    private const int LeastRate = 8_000, MostRate = 192_000, LargestPiece = 4_000_000;

    public static void MapRecording(this IEndpointRouteBuilder app)
    {
        app.MapGet("/music/{id:long}/record", (PlannedPieces planned, Takes takes, Recovery recovery, long id) =>
        {
            recovery.Left();
            return planned.Of(id) is not { } piece ? Pages.NotFound()
                : piece.Succeeded ? Pages.Of<RecordPage>(new { Piece = piece.Value, Unfinished = Unfinished(takes, id) })
                : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be planned", [.. piece.Problems.Select(p => p.ToString())]);
        });
        app.MapPost("/takes/begin", Begin);
        app.MapPost("/takes/{id:long}/samples", Samples);
        app.MapPost("/takes/{id:long}/end", End);
        app.MapPost("/takes/{id:long}/cut", (long id, Recovery recovery) =>
        {
            recovery.Cut(id);
            return Results.NoContent();
        });
        app.MapPost("/music/{id:long}/takes/bring", Bring).DisableAntiforgery();
    }

    private static List<Store.Take> Unfinished(Takes takes, long piece) => [.. takes.List(piece).Where(t => t.State != TakeState.Whole)];

    /// <summary>What a page says when a recording begins.</summary>
    internal sealed record Beginning(long Piece, int Rate);

    private static IResult Begin(Beginning beginning, Pieces pieces, Takes takes, Players players)
    {
        if (pieces.Find(beginning.Piece) is not { } piece) return Results.NotFound();
        if (beginning.Rate is < LeastRate or > MostRate) return Pages.Words(StatusCodes.Status400BadRequest, $"{beginning.Rate} samples a second cannot be recorded; {LeastRate} to {MostRate} can.");
        return Results.Json(new { id = takes.Begin(piece.Id, piece.Settings, beginning.Rate, ".wav", players.Find(PieceSettings.Read(piece.Settings).Player)?.Id).Id });
    }

    private static async Task<IResult> Samples(long id, long at, HttpRequest request, Takes takes, TakeFiles files)
    {
        if (takes.Find(id) is not { State: not TakeState.Whole } take) return Results.NotFound();
        if (at < 0 || request.ContentLength is null or > LargestPiece || request.ContentLength % 2 != 0) return Pages.Words(StatusCodes.Status400BadRequest, "A piece has a place and whole samples of 16 bits, at most two million of them.");
        using var piece = new MemoryStream();
        await request.Body.CopyToAsync(piece);
        var there = files.Append(take, at, piece.ToArray());
        takes.Came(id, there / (double)take.Rate);
        return Results.Json(new { samples = there }, statusCode: there < at ? StatusCodes.Status409Conflict : StatusCodes.Status200OK);
    }

    private static IResult End(long id, Takes takes, TakeFiles files)
    {
        if (takes.Find(id) is not { } take) return Results.NotFound();
        var samples = files.Samples(take);
        if (samples == 0)
        {
            takes.Delete(id);
            return Pages.Words(StatusCodes.Status400BadRequest, "Nothing was recorded: the microphone gave no sound.");
        }

        takes.End(id, TakeState.Whole, samples / (double)take.Rate);
        return Results.Json(new { url = $"/takes/{id}" });
    }

    private static async Task<IResult> Bring(long id, HttpRequest request, Pieces pieces, Takes takes, TakeFiles files, Players players, StudioSettings settings)
    {
        if (pieces.Find(id) is not { } piece) return Pages.NotFound();
        if (request.HttpContext.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit) limit.MaxRequestBodySize = settings.LargestRecording;
        if (!request.HasFormContentType) return Refused(request, id, StatusCodes.Status400BadRequest, "No recording came. Choose a sound file.");
        var form = await request.ReadFormAsync(new FormOptions { MultipartBodyLengthLimit = settings.LargestRecording });
        if (form.Files.Count == 0) return Refused(request, id, StatusCodes.Status400BadRequest, "No recording came. Choose a sound file.");
        var given = form.Files[0];
        var take = takes.Begin(id, piece.Settings, 0, EndingOf(given.FileName), players.Find(PieceSettings.Read(piece.Settings).Player)?.Id, Path.GetFileName(given.FileName));
        using (var content = given.OpenReadStream()) await files.Store(take, content);
        var opened = SoundFile.Open(files.PathOf(take));
        if (!opened.Succeeded)
        {
            files.Delete(take);
            takes.Delete(take.Id);
            return Refused(request, id, StatusCodes.Status422UnprocessableEntity, string.Join(" ", opened.Problems.Select(p => $"“{Path.GetFileName(given.FileName)}” {p.What} {p.Hint}")));
        }

        using (var sound = opened.Value) takes.End(take.Id, TakeState.Whole, SecondsOf(sound));
        return IsScript(request) ? Results.Json(new { url = $"/takes/{take.Id}" }) : Pages.Go($"/takes/{take.Id}");
    }

    private static double SecondsOf(SoundStream sound)
    {
        var block = new float[1 << 15];
        long samples = 0;
        for (var read = sound.Read(block); read > 0; read = sound.Read(block)) samples += read;
        return samples / (double)sound.Rate.Value;
    }

    // The page's script tries to decode a refused file itself, so it wants words and not a page.
    private static IResult Refused(HttpRequest request, long piece, int status, string why) =>
        IsScript(request) ? Pages.Words(status, why) : Pages.Problem(status, "This recording cannot be used", ($"/music/{piece}/record", "Record, or bring another"), why);

    private static bool IsScript(HttpRequest request) => request.Headers["Sec-Fetch-Dest"] == "empty";

    private static string EndingOf(string name)
    {
        var ending = Path.GetExtension(name).ToLowerInvariant();
        return ending.Length is > 1 and <= 6 && ending.Skip(1).All(char.IsAsciiLetterOrDigit) ? ending : ".sound";
    }
}
