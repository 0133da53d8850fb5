using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Pack;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Serving;

namespace Seamwright.Studio.Features.Piece;

/// <summary>A piece as files to take along: MusicXML, MIDI, a play-along, and everything together.</summary>
internal static class DownloadFeature
{
    private const string MusicXml = "application/vnd.recordare.musicxml+xml", Midi = "audio/midi";

    public static void MapDownloads(this IEndpointRouteBuilder app)
    {
        app.MapGet("/music/{id:long}/part.musicxml", (PlannedPieces planned, long id) => On(planned, id, p => Bytes(PackOf(p).WriteMusicXml, MusicXml, $"{p.Stored.Title}.musicxml")));
        app.MapGet("/music/{id:long}/part.mid", (PlannedPieces planned, long id) => On(planned, id, p => Bytes(PackOf(p).WriteMidi, Midi, $"{p.Stored.Title}.mid")));
        app.MapPost("/music/{id:long}/sound", (PlannedPieces planned, Works works, long id) => OnLong(planned, id, p => WorkingFeature.Run(works, "Making the play-along", $"/music/{id}", (tell, _) => Task.FromResult(Sound(p, works, tell))))).DisableAntiforgery();
        app.MapPost("/music/{id:long}/pack", (PlannedPieces planned, IEngraver engraver, TimeProvider clock, Works works, long id) =>
            OnLong(planned, id, p => WorkingFeature.Run(works, "Packing everything", $"/music/{id}", (tell, _) => Task.FromResult(Pack(p, engraver, clock, works, tell))))).DisableAntiforgery();
    }

    private static PiecePack PackOf(PlannedPiece piece) => new(piece.Sheet, piece.Look);

    private static IResult On(PlannedPieces planned, long id, Func<PlannedPiece, IResult> use)
    {
        if (planned.Of(id) is not { } piece) return Pages.NotFound();
        return piece.Succeeded ? use(piece.Value) : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be planned", [.. piece.Problems.Select(p => p.ToString())]);
    }

    private static async Task<IResult> OnLong(PlannedPieces planned, long id, Func<PlannedPiece, Task<IResult>> use)
    {
        if (planned.Of(id) is not { } piece) return Pages.NotFound();
        return piece.Succeeded ? await use(piece.Value) : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be planned", [.. piece.Problems.Select(p => p.ToString())]);
    }

    private static IResult Bytes(Action<Stream> write, string type, string name)
    {
        using var content = new MemoryStream();
        write(content);
        return Results.Bytes(content.ToArray(), type, name);
    }

    private static Outcome<Schedule> ScheduleOf(PlannedPiece piece) => PlayAlongMaker.LayOut([piece.Plan], PlayAlongSettings.Default with { CountIn = 1 });

    private static WorkEnd Sound(PlannedPiece piece, Works works, Action<double> tell)
    {
        var schedule = ScheduleOf(piece);
        if (!schedule.Succeeded) return new() { Problems = [.. schedule.Problems] };
        tell(0.1);
        var file = works.NewFile(".opus");
        var written = PlayAlongFile.Write(schedule.Value, file);
        return written.Succeeded ? new() { File = new(file, "audio/ogg", $"{piece.Stored.Title}.opus") } : new() { Problems = [.. written.Problems] };
    }

    private static WorkEnd Pack(PlannedPiece piece, IEngraver engraver, TimeProvider clock, Works works, Action<double> tell)
    {
        var printed = new SheetMaker(engraver).Make(piece.Score, piece.Part, piece.Plan, piece.Look);
        var schedule = ScheduleOf(piece);
        if (!printed.Succeeded || !schedule.Succeeded) return new() { Problems = [.. printed.Problems, .. schedule.Problems] };
        tell(0.3);
        var (sound, file) = (works.NewFile(".opus"), works.NewFile(".zip"));
        var written = PlayAlongFile.Write(schedule.Value, sound);
        if (!written.Succeeded) return new() { Problems = [.. written.Problems] };
        tell(0.9);
        using (var zip = File.Create(file)) PackOf(piece).Write(zip, printed.Value, clock.GetLocalNow(), schedule.Value, sound);
        File.Delete(sound);
        return new() { File = new(file, "application/zip", $"{piece.Stored.Title}.zip") };
    }
}
