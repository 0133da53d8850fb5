using Microsoft.Extensions.DependencyInjection;
using Seamwright.Studio.Features.Music;
using Seamwright.Studio.Store;

namespace Seamwright.Studio;

/// <summary>Puts the invented melodies in on the very first start, and never again.</summary>
internal static class FirstStart
{
    private const string Done = "first-start";

    public static void Fill(IServiceProvider services, StudioSettings settings)
    {
        var preferences = services.GetRequiredService<Preferences>();
        if (preferences[Done] is not null) return;
        var pieces = services.GetRequiredService<Pieces>();
        IEnumerable<string> melodies = settings.DemoFolder is { } folder && Directory.Exists(folder) ? Directory.EnumerateFiles(folder, "*.musicxml") : [];
        foreach (var path in melodies.OrderDescending(StringComparer.Ordinal))
        {
            var content = File.ReadAllBytes(path);
            var read = PieceFile.Read(content, Path.GetFileName(path));
            if (read.Succeeded) pieces.Add(PieceFile.TitleOf(read.Value, path), read.Value.Composer, Path.GetFileName(path), content, demo: true);
        }

        preferences.Set(Done, "yes");
    }
}
