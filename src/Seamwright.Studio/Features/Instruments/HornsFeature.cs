using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Core.Calibration;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Units;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Features.Take;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Instruments;

/// <summary>The instruments: those of the catalogue, and own ones, made by hand, from a file or from a recording.</summary>
internal static class HornsFeature
{
    public static void MapHorns(this IEndpointRouteBuilder app)
    {
        app.MapGet("/horns", (Horns horns, long? undo) => Pages.Of<HornsPage>(new { Own = horns.List(), Undo = undo }));
        app.MapGet("/horns/{key}", (Horns horns, string key) => Page(horns, key, []));
        app.MapGet("/horns/{key}/file.json", (Horns horns, string key) => horns.Find(key) is { } horn ? Results.Bytes(InstrumentFile.Bytes(horn), "application/json", $"{horn.Name}.json") : Pages.NotFound());
        app.MapPost("/horns/{key}/own", (Horns horns, string key) => horns.Find(key) is { } horn ? Pages.Go($"/horns/{horns.Add(horn with { Name = $"{horn.Name}, my own" })}") : Pages.NotFound()).DisableAntiforgery();
        app.MapPost("/horns/bring", Bring).DisableAntiforgery();
        app.MapPost("/horns/{key}", Change).DisableAntiforgery();
        app.MapPost("/horns/{key}/remove", (Horns horns, string key) => OnOwn(horns, key, own =>
        {
            horns.Remove(own.Id);
            return Pages.Go($"/horns?undo={own.Id}");
        })).DisableAntiforgery();
        app.MapPost("/horns/{id:long}/restore", (Horns horns, long id) =>
        {
            horns.Restore(id);
            return Pages.Go("/horns");
        }).DisableAntiforgery();
        app.MapPost("/horns/{key}/play", (Horns horns, Pieces pieces, string key) => horns.Find(key) is { } horn ? Play(horn, pieces) : Pages.NotFound()).DisableAntiforgery();
        app.MapGet("/takes/{id:long}/horn", (HeardTakes heard, long id, string? seventh) => OnTake(heard, id, seventh, (take, found) => Pages.Of<HornHeardPage>(new { Take = take, Found = found, Seventh = seventh ?? "" })));
        app.MapPost("/takes/{id:long}/horn", (HeardTakes heard, Horns horns, TimeProvider clock, long id, string? seventh) => OnTake(heard, id, seventh, (take, found) =>
            Pages.Go($"/horns/{horns.Add(found.After with { Name = Named(found.Before.Name, clock) })}"))).DisableAntiforgery();
    }

    private static IResult Page(Horns horns, string key, IReadOnlyList<Problem> problems) => horns.Find(key) is { } horn
        ? Pages.Of<HornPage>(new { Horn = horn, Own = horns.Own(key), Problems = problems }, problems.Count > 0 ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK)
        : Pages.NotFound();

    private static IResult OnOwn(Horns horns, string key, Func<OwnHorn, IResult> use) => horns.Own(key) is { } own ? use(own) : Pages.NotFound();

    private static async Task<IResult> Change(Horns horns, string key, HttpRequest request)
    {
        if (horns.Own(key) is not { } own) return Pages.NotFound();
        var changed = HornForm.Apply(own.Content, await request.ReadFormAsync());
        if (!changed.Succeeded) return Page(horns, key, [.. changed.Problems]);
        horns.Replace(own.Id, changed.Value);
        return Pages.Go($"/horns/{key}");
    }

    private static async Task<IResult> Bring(HttpRequest request, Horns horns)
    {
        var file = request.HasFormContentType ? (await request.ReadFormAsync()).Files.GetFile("file") : null;
        if (file is null) return Pages.Problem(StatusCodes.Status400BadRequest, "No file came", "Choose an instrument's file (JSON).");
        using var content = file.OpenReadStream();
        var read = InstrumentFile.Read(content, Path.GetFileName(file.FileName));
        return read.Succeeded
            ? Pages.Go($"/horns/{horns.Add(read.Value)}")
            : Pages.Of<HornsPage>(new { Own = horns.List(), Problems = (IReadOnlyList<Problem>)[.. read.Problems] }, StatusCodes.Status422UnprocessableEntity);
    }

    // What is to be played becomes a piece, so that it is seen, recorded and found again like any other.
    private static IResult Play(Instrument horn, Pieces pieces)
    {
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "horn-and-ear" }, Pupil.Of(horn, level: 3));
        if (!made.Succeeded) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This horn cannot be read from a recording", [.. made.Problems.Select(p => p.ToString())]);
        using var file = new MemoryStream();
        MusicXmlWriter.Write(made.Value.Exercises[0].Score, null, file);
        var id = pieces.Add(made.Value.Exercises[0].Title, "", "horn-and-ear.musicxml", file.ToArray());
        pieces.Tag(id, [Tag]);
        pieces.SaveSettings(id, new PieceSettings { Instrument = horn.Id }.Write());
        return Pages.Go($"/music/{id}");
    }

    /// <summary>Marks pieces a horn is read from.</summary>
    internal const string Tag = "own horn";

    private static IResult OnTake(HeardTakes heard, long id, string? seventh, Func<HeardTake, CalibrationResult, IResult> use)
    {
        if (heard.Of(id) is not { } take) return Pages.NotFound();
        if (!take.Succeeded) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This recording cannot be heard", [.. take.Problems.Select(p => p.ToString())]);
        Centimetres? cm = null;
        if (seventh is { Length: > 0 })
        {
            if (!double.TryParse(seventh.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || value is < 10 or > 150)
                return Pages.Problem(StatusCodes.Status400BadRequest, "How far is 7th position?", $"'{seventh}' is no number of centimetres from 10 to 150.");
            cm = new Centimetres(value);
        }

        var found = Calibrator.Calibrate(take.Value.Heard, take.Value.Piece.Plan, new CalibrationSettings { MeasuredSeventh = cm });
        return found.Succeeded ? use(take.Value, found.Value) : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "No horn can be read from this recording", [.. found.Problems.Select(p => p.ToString())]);
    }

    private static string Named(string before, TimeProvider clock) => $"{before.Replace(", my own", "", StringComparison.Ordinal)}, heard {clock.GetLocalNow().ToString("d MMMM yyyy", CultureInfo.InvariantCulture)}";
}
