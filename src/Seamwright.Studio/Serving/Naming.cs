using Microsoft.AspNetCore.Http;
using Seamwright.Core.Units;
using Seamwright.Studio.Features.Settings;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Serving;

/// <summary>Names notes in every answer as the user calls them.</summary>
internal sealed class Naming(RequestDelegate next, Preferences preferences)
{
    public Task InvokeAsync(HttpContext context)
    {
        var language = preferences.Of(SettingsFeature.Names) switch { "german" => NoteLanguage.German, "latin" => NoteLanguage.Latin, _ => NoteLanguage.English };
        NoteNaming.Current = new NoteNaming(language, preferences.Of(SettingsFeature.Written) == "b-flat-treble");
        return next(context);
    }
}
