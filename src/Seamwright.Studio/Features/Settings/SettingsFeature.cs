using System.Collections.Immutable;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Settings;

/// <summary>A choice that holds for the whole workbench.</summary>
/// <param name="Name">Of the preference.</param>
/// <param name="Words">Before the choices.</param>
/// <param name="Values">Each with its words; the first is the default.</param>
public sealed record Choice(string Name, string Words, ImmutableArray<(string Value, string Words)> Values);

/// <summary>How the workbench itself looks and speaks.</summary>
internal static class SettingsFeature
{
    public static readonly Choice Light = new("light", "Light", [("auto", "as this computer has it"), ("day", "day"), ("night", "night")]);
    public static readonly Choice Names = new("names", "Notes are called", [("english", "B♭, B"), ("german", "B, H"), ("latin", "Si♭, Si")]);
    public static readonly Choice Written = new("written", "and stand for", [("concert", "what sounds"), ("b-flat-treble", "what a B♭ treble part writes")]);

    /// <summary>In the order they are offered.</summary>
    public static ImmutableArray<Choice> All { get; } = [Light, Names, Written];

    public static void MapSettings(this IEndpointRouteBuilder app) => app.MapPost("/settings/{name}", async (string name, HttpRequest request, Preferences preferences) =>
    {
        if (All.FirstOrDefault(c => c.Name == name) is not { } choice) return Pages.NotFound();
        var wish = (await request.ReadFormAsync())["value"].ToString();
        if (choice.Values.All(v => v.Value != wish)) return Pages.Problem(StatusCodes.Status400BadRequest, "No such choice", $"'{wish}' is not known. There are: {string.Join(", ", choice.Values.Select(v => v.Value))}.");
        preferences.Set(name, wish);
        var from = request.Headers.Referer.ToString();
        return Pages.Go(Uri.TryCreate(from, UriKind.Absolute, out var uri) && uri.Authority == request.Host.ToString() ? uri.PathAndQuery : "/");
    }).DisableAntiforgery();

    /// <summary>The choice in force.</summary>
    public static string Of(this Preferences preferences, Choice choice) => preferences[choice.Name] ?? choice.Values[0].Value;
}
