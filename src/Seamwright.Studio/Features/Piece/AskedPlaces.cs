using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Primitives;
using Seamwright.Core.Scores;
using Seamwright.Engraving;

namespace Seamwright.Studio.Features.Piece;

/// <summary>From which bar on the music of a piece is wanted.</summary>
internal static class AskedPlaces
{
    /// <summary>As an address says it.</summary>
    /// <param name="query"><c>from</c>, the index of a bar, and <c>since</c>, not after it; neither for the beginning.</param>
    /// <param name="part">With at least one bar.</param>
    /// <returns>Null where the part has no such bar.</returns>
    public static ScreenPlace? Asked(IQueryCollection query, Part part)
    {
        if (query["from"].Count == 0) return ScreenPlace.Beginning;
        if (Index(query["from"], part) is not { } from) return null;
        return query["since"].Count == 0 ? new(from, from) : Index(query["since"], part) is { } since && since <= from ? new(from, since) : null;
    }

    /// <summary>Where a page begins: where its address or, for changed settings, the form says; else at the first bar.</summary>
    public static ScreenPlace Wished(HttpRequest request, Part part)
    {
        if (HttpMethods.IsGet(request.Method)) return Asked(request.Query, part) ?? ScreenPlace.Beginning;
        return request.HasFormContentType && Index(request.Form["from"], part) is { } from ? new(from, from) : ScreenPlace.Beginning;
    }

    private static int? Index(StringValues text, Part part) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var index) && index < part.Bars.Length ? index : null;
}
