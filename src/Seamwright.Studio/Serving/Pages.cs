using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Seamwright.Core.Units;
using Seamwright.Studio.Shell;

namespace Seamwright.Studio.Serving;

/// <summary>Answers made of components.</summary>
internal static class Pages
{
    /// <summary>A whole page or a piece of one.</summary>
    /// <param name="parameters">An anonymous object with the component's parameters.</param>
    /// <param name="status">HTTP status.</param>
    public static IResult Of<TComponent>(object? parameters = null, int status = StatusCodes.Status200OK)
        where TComponent : IComponent => new RazorComponentResult<TComponent>(parameters ?? new { }) { StatusCode = status, PreventStreamingRendering = true };

    /// <summary>The same where notes are named in a way of its own, as beside music in another clef.</summary>
    public static IResult Named(NoteNaming naming, Func<IResult> make) => new NamedResult(naming, naming.While(make));

    public static IResult NotFound() => Problem(StatusCodes.Status404NotFound, "There is nothing here", "The page or the piece you asked for does not exist, or it was removed.");

    /// <summary>A page that says what is wrong and what to do.</summary>
    public static IResult Problem(int status, string title, params string[] lines) => Problem(status, title, ("/", "Back to the music"), lines);

    /// <summary>The same with a way on.</summary>
    public static IResult Problem(int status, string title, (string Url, string Words) way, params string[] lines) => Of<ProblemPage>(new { Title = title, Way = way, Lines = lines }, status);

    /// <summary>A sentence for a script, which puts it where the reader looks.</summary>
    public static IResult Words(int status, string words) => Results.Text(words, statusCode: status);

    /// <summary>Goes to a page after something was done.</summary>
    public static IResult Go(string url) => Results.Redirect(url);

    // What the answer is made of may be rendered only when it is sent.
    private sealed class NamedResult(NoteNaming naming, IResult made) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            NoteNaming.Current = naming;
            return made.ExecuteAsync(httpContext);
        }
    }
}
