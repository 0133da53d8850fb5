using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
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

    public static IResult NotFound() => Problem(StatusCodes.Status404NotFound, "There is nothing here", "The page or the piece you asked for does not exist, or it was removed.");

    /// <summary>A page that says what is wrong and what to do.</summary>
    public static IResult Problem(int status, string title, params string[] lines) => Of<ProblemPage>(new { Title = title, Lines = lines }, status);

    /// <summary>Goes to a page after something was done.</summary>
    public static IResult Go(string url) => Results.Redirect(url);
}
