using Microsoft.AspNetCore.Http;

namespace Seamwright.Studio.Serving;

/// <summary>The one handler of what nobody expected: a page that says so, and nothing is lost.</summary>
internal sealed class Unexpected(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context)
    {
        try
        {
            await next(context);
        }
        catch (BadHttpRequestException e) when (!context.Response.HasStarted)
        {
            await Pages.Problem(e.StatusCode, "This could not be taken", e.StatusCode == StatusCodes.Status413PayloadTooLarge ? "The file is larger than the workbench takes." : "The address or the form holds something that cannot be read. Go back, and follow a link of the workbench.").ExecuteAsync(context);
        }
        catch (Exception e) when (!context.Response.HasStarted && e is not OperationCanceledException)
        {
            await Pages.Problem(StatusCodes.Status500InternalServerError, "Something went wrong here", $"{e.Message} Nothing that was stored is lost. Go back and try again.").ExecuteAsync(context);
        }
    }
}
