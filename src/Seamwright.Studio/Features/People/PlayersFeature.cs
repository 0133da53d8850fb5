using System.Globalization;
using System.IO.Compression;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Features.Practice;
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.People;

/// <summary>Who plays: their horn, range, arm and way of tonguing, their takes; everything of theirs to take along or to delete for good.</summary>
internal static class PlayersFeature
{
    private const int LongestName = 80, LongestNotes = 4000;

    public static void MapPlayers(this IEndpointRouteBuilder app)
    {
        app.MapGet("/players", (Players players, Takes takes, long? undo) => Pages.Of<PlayersPage>(new { Players = players.List(), Takes = takes.List(), Undo = undo }));
        app.MapPost("/players", async (HttpRequest request, Players players) =>
        {
            var name = (await request.ReadFormAsync())["name"].ToString().Trim();
            return name.Length is 0 or > LongestName ? Pages.Problem(StatusCodes.Status400BadRequest, "A player needs a name", $"Give a name of 1 to {LongestName} letters; a first name is enough.") : Pages.Go($"/players/{players.Add(name, new())}");
        }).DisableAntiforgery();
        app.MapGet("/players/{id:long}", (Players players, Horns horns, Takes takes, Pieces pieces, long id) => players.Find(id) is { } player ? Page(player, horns, takes, pieces, []) : Pages.NotFound());
        app.MapPost("/players/{id:long}", Change).DisableAntiforgery();
        app.MapPost("/players/{id:long}/remove", (Players players, long id) =>
        {
            players.Remove(id);
            return Pages.Go($"/players?undo={id}");
        }).DisableAntiforgery();
        app.MapPost("/players/{id:long}/restore", (Players players, long id) =>
        {
            players.Restore(id);
            return Pages.Go("/players");
        }).DisableAntiforgery();
        app.MapGet("/players/{id:long}/all.zip", Export);
        app.MapGet("/players/{id:long}/delete", (Players players, Takes takes, long id) =>
            players.Find(id) is { } player ? Pages.Of<DeletePlayerPage>(new { Player = player, Takes = takes.ToDelete(id).Count }) : Pages.NotFound());
        app.MapPost("/players/{id:long}/delete", (Players players, Takes takes, TakeFiles files, Pieces pieces, Store.Books books, long id) =>
        {
            if (players.Find(id) is not { } player) return Pages.NotFound();
            foreach (var take in takes.ToDelete(id))
            {
                files.Delete(take);
                takes.Delete(take.Id);
            }

            Forget(player, pieces, books);
            players.Delete(id);
            return Pages.Go("/players");
        }).DisableAntiforgery();
    }

    // Pieces and books name players too: they fall back to nobody in particular.
    private static void Forget(StoredPlayer player, Pieces pieces, Store.Books books)
    {
        foreach (var piece in pieces.Everything())
        {
            if (PieceSettings.Read(piece.Settings) is { } settings && settings.Player == player.Id) pieces.SaveSettings(piece.Id, (settings with { Player = 0 }).Write());
        }

        foreach (var book in books.Everything())
        {
            var card = book.Card with
            {
                For = Without(book.Card.For),
                Header = Without(book.Card.Header),
                Lines = [.. book.Card.Lines.Select(l => l with { Chapter = Without(l.Chapter) }).Select(l => PracticeWish.Read(l.Wish) is { } wish && wish.Player == player.Id ? l with { Wish = (wish with { Player = 0, Instrument = player.Card.Horn, Level = player.Card.Level }).Query } : l)],
            };
            books.Save(book.Id, Without(book.Title) is { Length: > 0 } title ? title : "Exercises", card);
        }

        string Without(string words)
        {
            var left = Renamed(words, player.Name, "", possessive: true);
            return left == words ? words : left.Trim(' ', ',', '·', '-');
        }
    }

    // Whole words alone: Al stands in no Alto.
    private static string Renamed(string words, string before, string after, bool possessive = false) =>
        Regex.Replace(words, $@"(?<!\w){Regex.Escape(before)}{(possessive ? "(?:['’]s)?" : "")}(?!\w)", after.Replace("$", "$$", StringComparison.Ordinal), RegexOptions.IgnoreCase | RegexOptions.CultureInvariant);

    // Covers follow, so that nothing keeps a name that nobody has any more. A name that another player bears too is theirs as well.
    private static void Rename(StoredPlayer player, string name, IReadOnlyList<StoredPlayer> players, Store.Books books)
    {
        if (name == player.Name || players.Any(p => p.Id != player.Id && p.Name.Equals(player.Name, StringComparison.OrdinalIgnoreCase))) return;
        foreach (var book in books.Everything())
        {
            var card = book.Card with { For = Renamed(book.Card.For, player.Name, name), Header = Renamed(book.Card.Header, player.Name, name), Lines = [.. book.Card.Lines.Select(l => l with { Chapter = Renamed(l.Chapter, player.Name, name) })] };
            books.Save(book.Id, Renamed(book.Title, player.Name, name), card);
        }
    }

    private static IResult Page(StoredPlayer player, Horns horns, Takes takes, Pieces pieces, List<Problem> problems) => Pages.Of<PlayerPage>(
        new { Player = player, Horns = horns.Choices(), Takes = takes.List(player: player.Id), Titles = pieces.List().ToDictionary(p => p.Id, p => p.Title), Problems = problems },
        problems.Count > 0 ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);

    private static async Task<IResult> Change(Players players, Horns horns, Takes takes, Pieces pieces, Store.Books books, HttpRequest request, long id)
    {
        if (players.Find(id) is not { } player) return Pages.NotFound();
        var form = await request.ReadFormAsync();
        var fields = new FormFields(form);
        var now = player.Card;
        var card = now with
        {
            Horn = fields.Among("horn", [now.Horn, .. horns.Choices().Select(h => h.Id)], now.Horn),
            Level = (int)(fields.Number("level", Levels.Lowest, Levels.Highest, now.Level) ?? now.Level),
            Range = fields.Text("range", 20, now.Range),
            Furthest = fields.Number("furthest", 1, 8, now.Furthest),
            NoValves = form["no-valves"] == "on",
            Policy = fields.Among("policy", PlayerCard.Policies, now.Policy),
            Prefer = fields.Among("prefer", CostWeights.Presets.Keys, now.Prefer),
            Clef = fields.Among("clef", ["", .. ClefNames.All], now.Clef),
            Syllable = fields.Text("syllable", 8, now.Syllable),
            Notes = fields.Text("notes", LongestNotes, now.Notes),
        };
        var name = fields.Text("name", LongestName, player.Name) is { Length: > 0 } given ? given : player.Name;
        if (PupilOf(card, horns) is { Succeeded: false } wrong)
        {
            fields.Problems.AddRange(wrong.Problems);
            card = card with { Range = now.Range };
        }

        Rename(player, name, players.List(), books);
        players.Save(id, name, card);
        return fields.Problems.Count == 0 ? Pages.Go($"/players/{id}") : Page(player with { Name = name, Card = card }, horns, takes, pieces, fields.Problems);
    }

    /// <summary>The player as exercises are made for them.</summary>
    public static Outcome<Pupil> PupilOf(PlayerCard card, Horns horns)
    {
        var horn = horns.OrUsual(card.Horn);
        (Pitch Low, Pitch High)? wished = null;
        if (card.Range.Length > 0)
        {
            if (!PupilRange.TryParse(card.Range, out var range)) return Outcome<Pupil>.Failed("range", $"'{card.Range}' is no range such as F2-D4.", "Give the lowest and the highest note, or leave it empty for the level's.");
            wished = range;
        }

        return PupilRange.Of(horn, card.Plan(), card.Level, wished, ClefNames.Find(card.Clef) ?? (NoteNaming.Current.IsBFlatTreble ? Clef.TrebleBb : null), "range");
    }

    // Card, what was told of every take, and the sounds themselves.
    private static IResult Export(Players players, Horns horns, Takes takes, TakeFiles files, Pieces pieces, long id)
    {
        if (players.Find(id) is not { } player) return Pages.NotFound();
        var titles = pieces.List().ToDictionary(p => p.Id, p => p.Title);
        var all = takes.ToDelete(id);
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
        using (var zip = ZipFile.Open(file, ZipArchiveMode.Create))
        {
            using (var card = zip.CreateEntry("player.json").Open())
            {
                JsonSerializer.Serialize(card, new
                {
                    player.Name,
                    Horn = horns.OrUsual(player.Card.Horn).Name,
                    player.Card,
                    Takes = all.Select(t => new { File = NameOf(t), Piece = titles.GetValueOrDefault(t.Piece, ""), t.Name, t.Begun, t.Seconds, t.ToMend, Heard = t.Overall }),
                }, Indented);
            }

            foreach (var take in all.Where(t => File.Exists(files.PathOf(t)))) zip.CreateEntryFromFile(files.PathOf(take), NameOf(take));
        }

        // Gone when it was sent.
        var sent = new FileStream(file, new FileStreamOptions { Options = FileOptions.DeleteOnClose | FileOptions.Asynchronous });
        return Results.Stream(sent, "application/zip", $"{player.Name}.zip");

        string NameOf(Store.Take take) => $"takes/{take.BegunAt.ToString("yyyy-MM-dd HHmm", CultureInfo.InvariantCulture)} {take.File}";
    }

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase };
}
