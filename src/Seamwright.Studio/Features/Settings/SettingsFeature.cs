using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Settings;

/// <summary>How the workbench itself looks.</summary>
internal static class SettingsFeature
{
    /// <summary>Name of the preference: <c>auto</c>, <c>day</c> or <c>night</c>.</summary>
    public const string Light = "light";

    public static void MapSettings(this IEndpointRouteBuilder app) => app.MapPost("/light", async (HttpRequest request, Preferences preferences) =>
    {
        var wish = (await request.ReadFormAsync())["light"].ToString();
        if (wish is not ("auto" or "day" or "night")) return Pages.Problem(StatusCodes.Status400BadRequest, "Day or night?", $"'{wish}' is not known. There are: auto, day, night.");
        preferences.Set(Light, wish);
        var from = request.Headers.Referer.ToString();
        return Pages.Go(Uri.TryCreate(from, UriKind.Absolute, out var uri) && uri.Authority == request.Host.ToString() ? uri.PathAndQuery : "/");
    }).DisableAntiforgery();
}
