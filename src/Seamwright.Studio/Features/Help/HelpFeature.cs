using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Seamwright.Studio.Serving;

namespace Seamwright.Studio.Features.Help;

/// <summary>A page of help for each page of the workbench.</summary>
internal static class HelpFeature
{
    public static void MapHelp(this IEndpointRouteBuilder app) =>
        app.MapGet("/help/{topic}", (string topic) => HelpTexts.Find(topic) is { } text ? Pages.Of<HelpPage>(new { Text = text }) : Pages.NotFound());
}
