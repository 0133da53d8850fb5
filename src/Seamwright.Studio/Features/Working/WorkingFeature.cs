using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Studio.Serving;

namespace Seamwright.Studio.Features.Working;

/// <summary>How far long work is, how to stop it, and what came of it.</summary>
internal static class WorkingFeature
{
    public static void MapWorking(this IEndpointRouteBuilder app)
    {
        app.MapGet("/work/{id:long}", (Works works, long id) => works.Find(id) is { } work ? Answer(work) : Gone());
        app.MapGet("/work/{id:long}/share", (Works works, long id) => works.Find(id) is { } work ? Results.Json(new { share = work.Share, done = work.End.IsCompleted }) : Results.NotFound());
        app.MapGet("/work/{id:long}/file", (Works works, long id) => works.Find(id) is { End: { IsCompletedSuccessfully: true, Result.File: { } file } }
            ? Results.File(file.Path, file.Type, file.Name, enableRangeProcessing: true)
            : Pages.NotFound());
        app.MapPost("/work/{id:long}/stop", (Works works, long id) =>
        {
            if (works.Find(id) is not { } work) return Gone();
            work.Stop();
            return Pages.Go(work.From);
        }).DisableAntiforgery();
    }

    /// <summary>Begins work and answers with what came of it, or with a page that shows how far it is.</summary>
    public static async Task<IResult> Run(Works works, string title, string from, Func<Action<double>, CancellationToken, Task<WorkEnd>> run)
    {
        var work = await works.Begin(title, from, run);
        return work.End.IsCompleted ? Answer(work) : Pages.Go($"/work/{work.Id}");
    }

    private static IResult Gone() => Pages.Problem(StatusCodes.Status404NotFound, "This work is not here any more", "What is printed or packed is kept until other work takes its place, or the workbench is closed. What it was made from is all there: begin it again.");

    private static IResult Answer(Work work)
    {
        if (!work.End.IsCompletedSuccessfully) return Pages.Of<WorkPage>(new { Work = work });
        var end = work.End.Result;
        if (end.Problems.Count > 0) return Pages.Problem(StatusCodes.Status422UnprocessableEntity, $"{work.Title} came to nothing", [.. end.Problems.Select(p => p.ToString())]);
        if (end.Stopped) return Pages.Go(work.From);
        return end.Url is { } url ? Pages.Go(url) : Pages.Of<WorkPage>(new { Work = work });
    }
}
