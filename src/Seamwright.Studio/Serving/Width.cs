using Microsoft.AspNetCore.Http;

namespace Seamwright.Studio.Serving;

/// <summary>How wide music is engraved for a browser.</summary>
internal static class Width
{
    /// <summary>Whether the window is narrow: the page has said so, or nothing was said yet and the browser calls itself one of a telephone.</summary>
    public static bool IsNarrow(HttpRequest request) => request.Cookies["width"] is { } said
        ? said == "narrow"
        : request.Headers.UserAgent.ToString().Contains("Mobi", StringComparison.Ordinal);
}
