using System.Globalization;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Piece;

/// <summary>One piece: its music with the plan, why each note and change is as it is, and what can be done about it.</summary>
internal static class PieceFeature
{
    public static void MapPiece(this IEndpointRouteBuilder app)
    {
        app.MapGet("/music/{id:long}", (PlannedPieces planned, long id, HttpRequest request) => Show(planned, id, request, null));
        app.MapGet("/music/{id:long}/systems", (PlannedPieces planned, long id, HttpRequest request) => On(planned, id, p => AskedPlaces.Asked(request.Query, p.Part) is { } place
            ? Pages.Of<MusicRun>(new { Piece = p, Narrow = Width.IsNarrow(request), Place = place }) : Pages.NotFound()));
        app.MapPost("/music/{id:long}/settings", Settle).DisableAntiforgery();
        app.MapPost("/music/{id:long}/lock", Lock).DisableAntiforgery();
        app.MapGet("/music/{id:long}/note/{index:int}", (PlannedPieces planned, HttpRequest request, long id, int index) =>
            On(planned, id, p => index < 0 || index >= p.Plan.Notes.Length ? Pages.NotFound() : IsWindow(request) ? Whole(p, request, note: index) : Pages.Of<NotePanel>(new { Piece = p, Index = index })));
        app.MapGet("/music/{id:long}/hardest", (PlannedPieces planned, long id) => On(planned, id, p => Pages.Of<HardestPanel>(new { Piece = p })));
        app.MapGet("/music/{id:long}/change/{index:int}", (PlannedPieces planned, HttpRequest request, long id, int index) =>
            On(planned, id, p => index < 0 || index >= p.Plan.Changes.Length ? Pages.NotFound() : IsWindow(request) ? Whole(p, request, change: index) : Pages.Of<ChangePanel>(new { Piece = p, Index = index })));
        app.MapGet("/music/{id:long}/change/{index:int}/sound.wav", (PlannedPieces planned, long id, int index, string? @as) =>
            On(planned, id, p => index >= 0 && index < p.Plan.Changes.Length ? Sound(p, index, @as) : Pages.NotFound()));
        app.MapGet("/music/{id:long}/sheet.pdf", (PlannedPieces planned, IEngraver engraver, TimeProvider clock, long id) => On(planned, id, p => Sheet(p, engraver, clock)));
    }

    private static IResult On(PlannedPieces planned, long id, Func<PlannedPiece, IResult> use)
    {
        var piece = planned.Of(id);
        if (piece is null) return Pages.NotFound();
        return piece.Succeeded ? Pages.Named(piece.Value.Naming, () => use(piece.Value)) : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be planned", [.. piece.Problems.Select(p => p.ToString())]);
    }

    // Opened in a window of its own, a panel comes with its piece.
    private static bool IsWindow(HttpRequest request) => request.Headers["Sec-Fetch-Dest"] == "document";

    private static IResult Whole(PlannedPiece piece, HttpRequest request, int? note = null, int? change = null) =>
        Pages.Of<PiecePage>(new { Piece = piece, Narrow = Width.IsNarrow(request), Note = note, Change = change });

    private static IResult Show(PlannedPieces planned, long id, HttpRequest request, IReadOnlyList<Core.Problem>? problems, int? note = null)
    {
        var piece = planned.Of(id);
        if (piece is null) return Pages.NotFound();
        var stored = piece.Succeeded ? piece.Value.Stored : null;
        var narrow = Width.IsNarrow(request);
        var place = piece.Succeeded ? AskedPlaces.Wished(request, piece.Value.Part) : default;
        if (request.Headers["Sec-Fetch-Dest"] == "empty" && piece.Succeeded)
            return Pages.Named(piece.Value.Naming, () => Pages.Of<PieceBody>(new { Piece = piece.Value, Narrow = narrow, Place = place, Problems = problems ?? [], Note = note >= 0 && note < piece.Value.Plan.Notes.Length ? note : null }));
        if (stored is null) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be planned so", [.. piece.Problems.Select(p => p.ToString()), "Go back and choose another key, octave or instrument."]);
        return Pages.Named(piece.Value.Naming, () => Pages.Of<PiecePage>(new { Piece = piece.Value, Narrow = narrow, Place = place, Problems = problems ?? [] }));
    }

    private static async Task<IResult> Settle(PlannedPieces planned, Pieces pieces, Horns horns, Players players, long id, HttpRequest request)
    {
        if (pieces.Find(id) is not { } piece) return Pages.NotFound();
        var before = PieceSettings.Read(piece.Settings);
        var (settings, problems) = before.From(await request.ReadFormAsync(), horns.Choices().Select(h => h.Id), players.List());
        pieces.SaveSettings(id, settings.Write());

        // A wish that cannot be planned is told and not kept.
        if (planned.Of(id) is { Succeeded: false } failed)
        {
            pieces.SaveSettings(id, before.Write());
            problems = [.. problems, .. failed.Problems];
        }

        return request.Headers["Sec-Fetch-Dest"] == "empty" ? Show(planned, id, request, problems) : Pages.Go($"/music/{id}");
    }

    private static async Task<IResult> Lock(PlannedPieces planned, Pieces pieces, long id, HttpRequest request)
    {
        if (pieces.Find(id) is not { } piece) return Pages.NotFound();
        var form = await request.ReadFormAsync();
        if (!int.TryParse(form["note"], NumberStyles.None, CultureInfo.InvariantCulture, out var note)) return Pages.Problem(StatusCodes.Status400BadRequest, "Which note?", "The form named no note.");
        var before = PieceSettings.Read(piece.Settings);
        var wish = form["setting"].ToString();
        var locks = wish.Length == 0 ? before.Locks.Remove(note) : before.Locks.SetItem(note, wish);
        pieces.SaveSettings(id, (before with { Locks = locks }).Write());
        IReadOnlyList<Core.Problem> problems = [];
        if (planned.Of(id) is { Succeeded: false } failed)
        {
            pieces.SaveSettings(id, before.Write());
            problems = failed.Problems;
        }

        return request.Headers["Sec-Fetch-Dest"] == "empty" ? Show(planned, id, request, problems, note) : Pages.Go($"/music/{id}");
    }

    private static IResult Sheet(PlannedPiece piece, IEngraver engraver, TimeProvider clock)
    {
        var made = new SheetMaker(engraver).Make(piece.Score, piece.Part, piece.Plan, piece.Look);
        if (!made.Succeeded) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This piece cannot be printed", [.. made.Problems.Select(p => p.ToString())]);
        var pdf = new MemoryStream();
        made.Value.WritePdf(pdf, clock.GetLocalNow());
        return Results.Bytes(pdf.ToArray(), "application/pdf", $"{piece.Stored.Title}.pdf");
    }

    // The two notes of a change with one before and one after, so that it is heard on its way.
    private static IResult Sound(PlannedPiece piece, int index, string? fault)
    {
        var known = FaultNames.Find(fault ?? "clean");
        if (known is null) return Pages.Problem(StatusCodes.Status400BadRequest, "No such way to play it", $"'{fault}' is not known. There are: {string.Join(", ", FaultNames.All)}.");
        var (plan, change) = Excerpts.Around(piece.Plan, index);
        var order = new FaultOrder(known.Value, null, [change]);
        var sound = Voice.Render(plan, order.On(plan));
        var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(sound.Samples, sound.Rate));
        return Results.Bytes(wav.ToArray(), "audio/wav", enableRangeProcessing: true);
    }
}
