using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Engraving.Engines;

namespace Seamwright.Studio.Serving;

/// <summary>Style sheet, scripts and fonts: all of them lie in or beside the program, and their addresses change with their content.</summary>
internal static class OwnFiles
{
    private const string Prefix = "asset:";

    private static readonly FrozenDictionary<string, string> Fonts = new Dictionary<string, string>
    {
        ["page.ttf"] = "SourceSerif4-Regular.ttf",
        ["page-italic.ttf"] = "SourceSerif4-Italic.ttf",
        ["page-strong.ttf"] = "SourceSerif4-SemiBold.ttf",
        ["music.ttf"] = "Tinos-Regular.ttf",
        ["music-bold.ttf"] = "Tinos-Bold.ttf",
        ["music-italic.ttf"] = "Tinos-Italic.ttf",
    }.ToFrozenDictionary();

    private static readonly FrozenDictionary<string, byte[]> Files = Read();

    /// <summary>Changes whenever any file does; part of every address, so that browsers may keep files for ever.</summary>
    public static string Version { get; } = Convert.ToHexStringLower(SHA256.HashData([.. Files.OrderBy(f => f.Key, StringComparer.Ordinal).SelectMany(f => f.Value)]))[..12];

    /// <summary>Where a page finds a file.</summary>
    public static string Url(string name) => $"/assets/{Version}/{name}";

    public static void MapOwnFiles(this IEndpointRouteBuilder app) => app.MapGet("/assets/{version}/{name}", (string version, string name, HttpContext context) =>
    {
        if (Content(name) is not { } bytes) return Results.NotFound();
        context.Response.Headers.CacheControl = version == Version ? "public, max-age=31536000, immutable" : "no-cache";
        return Results.Bytes(bytes, TypeOf(name));
    });

    private static byte[]? Content(string name)
    {
        if (name == "pictures.css") return Encoding.UTF8.GetBytes(PageStyle.Pictures);
        if (Files.TryGetValue(name, out var file)) return file;
        return Fonts.TryGetValue(name, out var font) ? File.ReadAllBytes(Path.Combine(EngraverFiles.Default.Fonts, font)) : null;
    }

    private static FrozenDictionary<string, byte[]> Read()
    {
        var here = Assembly.GetExecutingAssembly();
        return here.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal)).ToFrozenDictionary(n => n[Prefix.Length..], n =>
        {
            using var stream = here.GetManifestResourceStream(n)!;
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            return bytes;
        });
    }

    private static string TypeOf(string name) => Path.GetExtension(name) switch
    {
        ".css" => "text/css; charset=utf-8",
        ".js" => "text/javascript; charset=utf-8",
        ".svg" => "image/svg+xml",
        _ => "font/ttf",
    };
}
