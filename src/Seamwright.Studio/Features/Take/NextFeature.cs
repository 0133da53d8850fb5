using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Books;
using Seamwright.Studio.Features.People;
using Seamwright.Studio.Features.Practice;
using Seamwright.Studio.Features.Working;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Take;

/// <summary>What to practise after a take: each exercise answers a fault that was heard, and says which.</summary>
internal static class NextFeature
{
    public static void MapNext(this IEndpointRouteBuilder app)
    {
        app.MapGet("/takes/{id:long}/next", (NextMaker maker, IEngraver engraver, HttpRequest request, long id, int? attempt) => On(maker, id, attempt, (take, work) => Pages.Of<NextPage>(new
        {
            Take = take,
            Work = work.Value,
            Problems = (IReadOnlyList<Problem>)[.. work.Problems],
            Music = PracticeFeature.Engraved(work.Value.Chosen.Select(c => c.Exercise), engraver, Width.IsNarrow(request)),
            Narrow = Width.IsNarrow(request),
        })));
        app.MapPost("/takes/{id:long}/next/keep", (NextMaker maker, Pieces pieces, long id, int exercise, int? attempt) => On(maker, id, attempt, (take, work) => exercise >= 0 && exercise < work.Value.Chosen.Length
            ? Pages.Go($"/music/{PracticeFeature.Kept(work.Value.Chosen[exercise].Exercise, pieces, take.Piece.Settings.ForAnother())}")
            : Pages.NotFound())).DisableAntiforgery();
        app.MapPost("/takes/{id:long}/next/print", async (NextMaker maker, BookBinder binder, Works works, long id, int? attempt) =>
        {
            if (maker.Of(id, attempt) is not { } made) return Pages.NotFound();
            if (!made.Work.Succeeded) return Wrong(made.Work.Problems);
            return await WorkingFeature.Run(works, "Printing what to practise", made.Take!.Url("next"), (tell, _) =>
                Task.FromResult(binder.Print($"After {made.Take.Piece.Stored.Title}", made.Work.Value.Chosen.Select(c => c.Exercise), tell)));
        }).DisableAntiforgery();
    }

    private static IResult On(NextMaker maker, long id, int? attempt, Func<HeardTake, Outcome<NextWork>, IResult> use)
    {
        if (maker.Of(id, attempt) is not { } made) return Pages.NotFound();
        return made.Work.Succeeded ? Pages.Named(made.Take!.Piece.Naming, () => use(made.Take, made.Work)) : Wrong(made.Work.Problems);
    }

    private static IResult Wrong(IEnumerable<Problem> problems) => Pages.Problem(StatusCodes.Status422UnprocessableEntity, "No exercises can be chosen from this take", [.. problems.Select(p => p.ToString())]);
}

/// <summary>Chooses the next exercises of a take for whoever played it.</summary>
internal sealed class NextMaker(HeardTakes heard, Horns horns, Players players)
{
    /// <summary>The take and what to practise after it; null where there is no such take.</summary>
    public (HeardTake? Take, Outcome<NextWork> Work)? Of(long id, int? attempt)
    {
        if (heard.Of(id, attempt) is not { } take) return null;
        if (!take.Succeeded) return (null, Outcome<NextWork>.Failed(take.Problems));
        var (piece, plan) = (take.Value.Piece, take.Value.Piece.Plan);
        var (pupil, later) = PupilsOf(take.Value);
        if (!pupil.Succeeded) return (take.Value, Outcome<NextWork>.Failed(pupil.Problems));
        return (take.Value, piece.Naming.While(() => NextExercises.Of(take.Value.Diagnosis, plan, pupil.Value, later, new Tune(piece.Stored.Title, piece.Part))));
    }

    // Of nobody in particular the piece tells the level: its player plays at least these notes.
    private (Outcome<Pupil> Now, Pupil? Later) PupilsOf(HeardTake take)
    {
        if (take.Stored.Player is { } id && players.Find(id) is { } player)
        {
            var next = player.Card.Level < Levels.Highest ? PlayersFeature.PupilOf(player.Card with { Level = player.Card.Level + 1, Range = "" }, horns) : null;
            return (PlayersFeature.PupilOf(player.Card, horns), next is { Succeeded: true } n ? n.Value : null);
        }

        var plan = take.Piece.Plan;
        var pitches = plan.Notes.Select(n => n.Note.Pitch).ToList();
        var level = Levels.OfRange(plan.Instrument, pitches.Min(), pitches.Max());
        Pupil At(int n) => Pupil.Of(plan.Instrument, take.Piece.Settings.Plan(), n) with { Clef = take.Piece.Clef };
        return (Outcome<Pupil>.Of(At(level)), level < Levels.Highest ? At(level + 1) : null);
    }
}
