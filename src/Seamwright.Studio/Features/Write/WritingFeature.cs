using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;
using Seamwright.Studio.Features.Music;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Write;

/// <summary>A melody written in letters (ABC notation 2.1), engraved while it is typed.</summary>
internal static class WritingFeature
{
    private const string FileName = "melody.abc";
    private const int LongestText = 100_000;

    private const string Beginning = """
        X:1
        T:My melody
        M:4/4
        L:1/4
        Q:1/4=80
        K:Bb clef=bass
        (B,,D,F,B, | A,F,D,C,) | (B,,C,D,E, | F,4) |]
        """;

    public static void MapWriting(this IEndpointRouteBuilder app)
    {
        app.MapGet("/music/write", (HttpRequest request, Pieces pieces, IEngraver engraver, long? piece) =>
        {
            if (piece is { } id && pieces.Find(id) is null) return Pages.NotFound();
            var text = piece is { } known ? Encoding.UTF8.GetString(pieces.Content(known)!) : Beginning;
            return Pages.Of<WritePage>(new { Text = text, Piece = piece, Shown = Engraved(text, engraver, request) });
        });
        app.MapPost("/music/write/engraved", async (HttpRequest request, IEngraver engraver) =>
            Pages.Of<WrittenMusic>(new { Shown = Engraved((await request.ReadFormAsync())["abc"].ToString(), engraver, request) })).DisableAntiforgery();
        app.MapPost("/music/write", Keep).DisableAntiforgery();
    }

    private static async Task<IResult> Keep(HttpRequest request, Pieces pieces, IEngraver engraver)
    {
        var form = await request.ReadFormAsync();
        var text = form["abc"].ToString();
        var piece = long.TryParse(form["piece"], out var id) ? id : (long?)null;
        var score = Read(text);
        if (!score.Succeeded) return Pages.Of<WritePage>(new { Text = text, Piece = piece, Shown = Engraved(text, engraver, request) }, StatusCodes.Status422UnprocessableEntity);
        var (title, content) = (PieceFile.TitleOf(score.Value, "A melody.abc"), Encoding.UTF8.GetBytes(text));
        if (piece is { } known && pieces.Find(known) is not null) pieces.Replace(known, title, score.Value.Composer, content);
        else piece = pieces.Add(title, score.Value.Composer, FileName, content);
        return Pages.Go($"/music/{piece}");
    }

    private static Outcome<Score> Read(string text) => text.Length > LongestText
        ? Outcome<Score>.Failed("the melody", $"has {text.Length:N0} letters.", $"At most {LongestText:N0} are taken: bring a file instead.")
        : PieceFile.Read(Encoding.UTF8.GetBytes(text), FileName);

    private static Written Engraved(string text, IEngraver engraver, HttpRequest request)
    {
        var width = Width.IsNarrow(request) ? PieceBody.NarrowWidth : PieceBody.WideWidth;
        var score = Read(text);
        if (!score.Succeeded) return new(null, width, score.Problems);
        var part = PartChooser.Choose(score.Value, Catalogue.Default);
        if (!part.Succeeded) return new(null, width, [.. score.Problems, .. part.Problems]);
        return new(new ScreenMaker(engraver).Make(part.Value, null, new SheetOptions(), width), width, score.Problems);
    }
}

/// <summary>A melody as far as it can be read.</summary>
/// <param name="Music">Null where it cannot.</param>
/// <param name="Width">It was engraved in, hundredths of a millimetre.</param>
/// <param name="Problems">With line and column.</param>
public sealed record Written(ScreenMusic? Music, int Width, IReadOnlyList<Problem> Problems);
