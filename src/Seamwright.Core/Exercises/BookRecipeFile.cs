using System.Collections.Immutable;
using System.Text.Json;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Reads the recipe of a book, schema <c>seamwright.book/1</c>; docs/book-recipe.md tells every field.</summary>
public static class BookRecipeFile
{
    public const string Schema = "seamwright.book/1";

    /// <summary>Most lines of exercises in a recipe.</summary>
    public const int MostItems = 500;

    private const int MostText = 200;

    /// <summary>Reads and checks the whole file.</summary>
    /// <param name="content">UTF-8 JSON, at most 1 MB.</param>
    /// <param name="fileName">For messages.</param>
    /// <returns>The recipe, or every mistake with its path in the file.</returns>
    public static Outcome<BookRecipe> Read(Stream content, string fileName)
    {
        var draft = ReadDraft(content, fileName);
        return draft.Succeeded && draft.Value.Problems.IsEmpty ? Outcome<BookRecipe>.Of(draft.Value.Recipe) : Outcome<BookRecipe>.Failed([.. draft.Problems, .. draft.Succeeded ? draft.Value.Problems : []]);
    }

    /// <summary>Reads what can be read of a file with mistakes, so that the files it names can be looked at too before anything is told.</summary>
    /// <param name="content">UTF-8 JSON, at most 1 MB.</param>
    /// <param name="fileName">For messages.</param>
    /// <returns>The recipe with every mistake; an error where it is no JSON at all.</returns>
    public static Outcome<RecipeDraft> ReadDraft(Stream content, string fileName)
    {
        var problems = new List<Problem>();
        using var document = JsonFields.Parse(content, fileName, problems);
        if (document is null) return Outcome<RecipeDraft>.Failed(problems);
        var recipe = Root(document.RootElement, problems);
        return Outcome<RecipeDraft>.Of(new RecipeDraft(recipe, [.. problems.Select(p => p with { Where = $"{fileName}: {p.Where}" })]));
    }

    private static BookRecipe Root(JsonElement element, List<Problem> problems)
    {
        var root = new JsonFields(element, "$", problems);
        if (root.Text("schema", required: true) is { } schema && schema != Schema)
            root.Wrong("$.schema", $"is \"{schema}\".", $"This program reads \"{Schema}\".");
        var recipe = new BookRecipe
        {
            Title = Words(root, "title"),
            Header = Words(root, "header"),
            For = Words(root, "for"),
            Date = Words(root, "date"),
            Image = root.Text("image"),
            IsLetter = root.Choice("paper", "a4", "letter") == "letter",
            Instrument = root.Text("instrument"),
            Level = root.Whole("level", Levels.Lowest, Levels.Highest) ?? 3,
            Range = RangeOf(root),
            Clef = root.Choice("clef", ["chosen", .. ClefNames.All]) is { } clef ? ClefNames.Find(clef) : null,
            Settings = SettingsOf(root),
            Syllable = Syllable(root),
            IsLarge = root.Choice("music", "normal", "large") is { } size ? size == "large" : null,
            RepeatsWords = root.Choice("words", "every", "new") != "new",
            Sound = BookSound.Read(root),
            Items = Items(root),
        };
        root.RejectUnknown();
        return recipe;
    }

    private static string Words(JsonFields fields, string name)
    {
        var text = fields.Text(name) ?? "";
        if (text.Length > MostText) fields.Wrong(fields.Under(name), $"has {text.Length} characters.", $"At most {MostText} have room.");
        return text;
    }

    private static string Syllable(JsonFields root)
    {
        if (root.Text("syllable") is not { } text) return "du";
        if (text.Length is 0 or > 8) root.Wrong("$.syllable", $"has {text.Length} characters.", "A syllable has 1 to 8.");
        return text;
    }

    private static (Pitch Low, Pitch High)? RangeOf(JsonFields root)
    {
        if (root.Text("range") is not { } text) return null;
        if (PupilRange.TryParse(text, out var range)) return range;
        root.Wrong("$.range", $"is \"{text}\".", "Give the lowest and the highest note, for instance \"F2-D4\".");
        return null;
    }

    private static PlanSettings SettingsOf(JsonFields root)
    {
        if (root.Object("player") is not { } fields) return new();
        var player = new Player
        {
            FurthestPosition = fields.Number("maxPosition", 1, 8, ""),
            ValvesAllowed = fields.Flag("valves") ?? true,
            Policy = fields.Choice("policy", "where-needed", "every-note", "natural-only") switch
            {
                "every-note" => TonguePolicy.EveryNote,
                "natural-only" => TonguePolicy.NaturalSlursOnly,
                _ => TonguePolicy.WhereItWouldSmear,
            },
        };
        if (fields.Number("moveTime", 20, 2000, " ms") is { } ms) player = player with { MoveTime = Seconds.FromMilliseconds(ms) };
        if (fields.Number("tongueAt", 0, 100, " %") is { } at) player = player with { TongueAt = at / 100 };
        var weights = fields.Choice("prefer", [.. CostWeights.Presets.Keys.Order()]);
        var settings = new PlanSettings { Player = player, Bans = Bans(fields) };
        fields.RejectUnknown();
        return weights is null ? settings : settings with { Weights = CostWeights.Presets[weights] };
    }

    private static ImmutableArray<SettingPattern> Bans(JsonFields fields)
    {
        var bans = ImmutableArray.CreateBuilder<SettingPattern>();
        foreach (var text in fields.TextOrTexts("ban"))
        {
            if (SettingPattern.TryParse(text, out var ban)) bans.Add(ban);
            else fields.Wrong(fields.Under("ban"), $"names \"{text}\".", "Name settings such as 6, F, F5 or valves.");
        }

        return bans.ToImmutable();
    }

    private static ImmutableArray<RecipeItem> Items(JsonFields root)
    {
        var items = root.Array("exercises").ToList();
        if (items.Count == 0) root.Wrong("$.exercises", "names no exercise.", "Give a list such as [{\"kind\": \"one-note\"}].");
        if (items.Count > MostItems) root.Wrong("$.exercises", $"has {items.Count} lines.", $"A book has at most {MostItems}; make two.");
        return [.. items.Take(MostItems).Select(i => RecipeItemReader.Read(new JsonFields(i.Element, i.Path, root.Problems), MostText))];
    }
}
