using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Instruments;
using Seamwright.Studio.Features.Record;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Take;

/// <summary>What was heard in a recording, and what to work on.</summary>
internal static class TakeFeature
{
    // Around a change, so that the ear knows where it is.
    private const double Around = 0.8;
    private const int LongestName = 120;

    // Seconds of sound; a minute is heard within two.
    private const double Long = 90;

    public static void MapTake(this IEndpointRouteBuilder app)
    {
        app.MapGet("/takes", (Takes takes, Pieces pieces, Players players, Recovery recovery, string? undo) =>
        {
            recovery.Left();
            return Pages.Of<TakesPage>(new
            {
                Takes = takes.List(),
                Titles = pieces.List().ToDictionary(p => p.Id, p => p.Title),
                Players = players.List().ToDictionary(p => p.Id, p => p.Name),
                PutAway = takes.ToDelete(null).Count,
                Undo = long.TryParse(undo, out var id) ? id : (long?)null,
            });
        });
        app.MapGet("/takes/put-away", (Takes takes, Pieces pieces) => Pages.Of<PutAwayPage>(new { Takes = takes.ToDelete(null), Titles = pieces.List().ToDictionary(p => p.Id, p => p.Title) }));
        app.MapPost("/takes/put-away/delete", (Takes takes, TakeFiles files) =>
        {
            foreach (var take in takes.ToDelete(null))
            {
                files.Delete(take);
                takes.Delete(take.Id);
            }

            return Pages.Go("/takes");
        }).DisableAntiforgery();
        app.MapGet("/takes/{id:long}", Show);
        app.MapGet("/takes/{id:long}/beside/{earlier:long}", (HeardTakes heard, long id, long earlier) => On(heard, earlier, null, a => On(heard, id, null, b => new[] { a, b }.FirstOrDefault(t => !t.IsRecognised) is { } unknown
            ? Pages.Problem(StatusCodes.Status422UnprocessableEntity, "These two cannot be compared", ($"/takes/{b.Stored.Id}", "Back to the take"), $"In the one of {unknown.Stored.BegunAt:d MMMM, HH:mm} the piece was not recognised: {unknown.Report.Overall}")
            : Comparison.Of(a, b) is { } two
            ? Pages.Of<ComparePage>(new { Two = two })
            : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "These two cannot be compared", "They were not played from the same notes: another piece, key or octave."))));
        app.MapGet("/takes/{id:long}/change/{index:int}", (HeardTakes heard, long id, int index, int? attempt) => On(heard, id, attempt, t => index >= 0 && index < t.Piece.Plan.Changes.Length ? Pages.Of<HeardPanel>(new { Take = t, Index = index }) : Pages.NotFound()));
        app.MapGet("/takes/{id:long}/change/{index:int}/sound.wav", (HeardTakes heard, TakeFiles files, long id, int index, int? attempt) => On(heard, id, attempt, t => Excerpt(t, files, index)));
        app.MapGet("/takes/{id:long}/report.pdf", (HeardTakes heard, IEngraver engraver, long id, int? attempt) => On(heard, id, attempt, t => Report(t, engraver)));
        app.MapGet("/takes/{id:long}/sound", (Takes takes, TakeFiles files, long id) =>
            takes.Find(id) is { } take && File.Exists(files.PathOf(take)) ? Results.File(files.PathOf(take), "application/octet-stream", take.File, enableRangeProcessing: true) : Pages.NotFound());
        app.MapPost("/takes/{id:long}/name", async (long id, HttpRequest request, Takes takes, Players players) =>
        {
            var form = await request.ReadFormAsync();
            var name = form["name"].ToString().Trim();
            takes.Rename(id, name.Length <= LongestName ? name : name[..LongestName]);
            if (long.TryParse(form["player"], out var player)) takes.PlayedBy(id, players.Find(player)?.Id);
            return Pages.Go($"/takes/{id}");
        }).DisableAntiforgery();
        app.MapPost("/takes/{id:long}/remove", (long id, Takes takes) =>
        {
            takes.Remove(id);
            return Pages.Go($"/takes?undo={id}");
        }).DisableAntiforgery();
        app.MapPost("/takes/{id:long}/restore", (long id, Takes takes) =>
        {
            takes.Restore(id);
            return Pages.Go("/takes");
        }).DisableAntiforgery();
    }

    // A short take is there while the reader looks; a long one shows how far the listening is.
    private static async Task<IResult> Show(HeardTakes heard, Takes takes, Players players, Pieces pieces, Works works, HttpRequest request, long id, int? attempt)
    {
        if (takes.Find(id) is not { } take) return Pages.NotFound();
        if (take.Seconds > Long && !heard.IsKnown(take))
        {
            return await WorkingFeature.Run(works, "Listening", "/takes", (tell, _) =>
            {
                heard.Of(id, attempt, tell);
                return Task.FromResult(new WorkEnd { Url = $"/takes/{id}" });
            });
        }

        return On(heard, id, attempt, t => Pages.Of<TakePage>(new
        {
            Take = t,
            Players = players.List(),
            ReadsHorn = pieces.Find(take.Piece)?.Tags.Contains(HornsFeature.Tag) == true,
            Earlier = t.IsRecognised ? takes.List(take.Piece).FirstOrDefault(o => o.Id < id && o.ToMend != Store.Take.NotRecognised)?.Id : null,
            Narrow = Width.IsNarrow(request),
        }));
    }

    private static IResult On(HeardTakes heard, long id, int? attempt, Func<HeardTake, IResult> use)
    {
        var take = heard.Of(id, attempt);
        if (take is null) return Pages.NotFound();
        return take.Succeeded ? Pages.Named(take.Value.Piece.Naming, () => use(take.Value)) : Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This recording cannot be heard", [.. take.Problems.Select(p => p.ToString())]);
    }

    private static IResult Excerpt(HeardTake take, TakeFiles files, int index)
    {
        if (index < 0 || index >= take.Heard.Changes.Length) return Pages.NotFound();
        var change = take.Piece.Plan.Changes[index];
        var (from, to) = (take.Heard.Notes[change.FromNote], take.Heard.Notes[change.ToNote]);
        if (to.Onset is not { } at) return Pages.NotFound();
        var start = Math.Max(0, Math.Max(at.Value - Around, (from.Onset?.Value ?? at.Value) - 0.1));
        var end = Math.Min(at.Value + Around, (to.Offset?.Value ?? at.Value) + 0.1);
        var read = SoundFile.Read(files.PathOf(take.Stored));
        if (!read.Succeeded) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, "This recording cannot be read", [.. read.Problems.Select(p => p.ToString())]);
        var rate = read.Value.Rate;
        var first = (int)Math.Min(read.Value.Samples.Length, rate.ToSamples(new Seconds(start)));
        var count = (int)Math.Min(read.Value.Samples.Length - first, rate.ToSamples(new Seconds(end - start)));
        var wav = new MemoryStream();
        WavFile.Write(wav, new Recording(read.Value.Samples.Slice(first, count), rate));
        return Results.Bytes(wav.ToArray(), "audio/wav", enableRangeProcessing: true);
    }

    private static IResult Report(HeardTake take, IEngraver engraver)
    {
        var pdf = new MemoryStream();
        new ReportMaker(engraver).Print(take.Piece.Part, take.Piece.Plan, take.Report).WritePdf(pdf);
        return Results.Bytes(pdf.ToArray(), "application/pdf", $"{take.Piece.Stored.Title}, heard.pdf");
    }
}
