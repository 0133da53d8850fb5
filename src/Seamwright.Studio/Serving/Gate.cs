using Microsoft.AspNetCore.Http;

namespace Seamwright.Studio.Serving;

/// <summary>Lets in only what comes from this workbench's own pages, and tells browsers to keep it so.</summary>
/// <remarks>Host names against DNS rebinding; Origin and Fetch metadata (Fetch Standard; W3C Fetch Metadata Request Headers) against
/// calls from other sites; a Content Security Policy (CSP Level 3) that allows this origin and nothing else.</remarks>
internal sealed class Gate(RequestDelegate next, StudioSettings settings)
{
    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; media-src 'self' blob:; connect-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

    private readonly HashSet<string> hosts = new(settings.HostNames, StringComparer.OrdinalIgnoreCase);

    public Task InvokeAsync(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        // With no referrer at all, browsers say "null" for the origin of a form that is sent.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "microphone=(self), camera=(), geolocation=(), payment=()";
        if (!hosts.Contains(context.Request.Host.Host)) return Refuse(context, StatusCodes.Status421MisdirectedRequest, "This workbench does not answer to that name.");
        if (ChangesSomething(context.Request) && !IsOwn(context.Request)) return Refuse(context, StatusCodes.Status403Forbidden, "This call comes from another site and is refused.");
        return next(context);
    }

    private static bool ChangesSomething(HttpRequest request) =>
        !(HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method)) || request.Headers.ContainsKey("Sec-WebSocket-Key");

    // Browsers name the origin of every such call; what names none is no page.
    private static bool IsOwn(HttpRequest request)
    {
        if (request.Headers["Sec-Fetch-Site"].ToString() is not ("" or "same-origin" or "none")) return false;
        var origin = request.Headers.Origin.ToString();
        return origin.Length == 0 || origin.Equals($"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase);
    }

    private static Task Refuse(HttpContext context, int status, string why)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/plain; charset=utf-8";
        return context.Response.WriteAsync(why);
    }
}
