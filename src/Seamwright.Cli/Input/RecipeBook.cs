using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Engraving;

namespace Seamwright.Cli.Input;

/// <summary>A recipe with everything it names: exercises made, files read.</summary>
/// <param name="Pupil">For whom.</param>
/// <param name="Entries">In the order of the book; at least one.</param>
/// <param name="Look">Of the book.</param>
/// <param name="Sound">Of its play-alongs.</param>
/// <param name="Inputs">Files that were read, which nothing may replace.</param>
internal sealed record RecipeBook(Pupil Pupil, ImmutableArray<BookEntry> Entries, BookOptions Look, BookSound Sound, ImmutableArray<string> Inputs)
{
    /// <summary>Reads a recipe and makes its exercises.</summary>
    /// <param name="path">The recipe's file.</param>
    /// <returns>Notes on what was left out; or everything wrong with recipe and files.</returns>
    public static Outcome<RecipeBook> Load(string path)
    {
        var read = Files.Read(path, BookRecipeFile.ReadDraft);
        if (!read.Succeeded) return Outcome<RecipeBook>.Failed(read.Problems);
        var recipe = read.Value.Recipe;
        var folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
        var horn = Horn(recipe, path, folder, out var hornFile);
        var imageFile = recipe.Image is { } image ? Path.Combine(folder, image) : null;
        var picture = imageFile is null ? null : Files.Read(imageFile, BookImage.Read);

        // Where the horn is not known, the usual one stands in for it: tunes and range are looked at all the same.
        var pupil = PupilRange.Of(horn.Succeeded ? horn.Value : Catalogue.Default, recipe.Settings, recipe.Level, recipe.Range, recipe.Clef, $"{Path.GetFileName(path)}: $.range");
        var tunes = Tunes(recipe, folder, horn.Succeeded ? horn.Value : Catalogue.Default);
        List<Problem> wrong = [.. read.Value.Problems, .. horn.Problems, .. picture?.Problems ?? [], .. horn.Succeeded ? pupil.Problems : [], .. tunes.Values.Where(t => !t.Succeeded).SelectMany(t => t.Problems)];
        if (wrong.Exists(p => p.Severity == Severity.Error)) return Outcome<RecipeBook>.Failed(wrong);
        List<Problem> notes = [.. tunes.Values.SelectMany(t => t.Problems)];
        var played = recipe with { Items = [.. recipe.Items.Select(i => i.Tune is { } tune ? i with { Orders = [.. i.Orders.Select(o => o with { Tune = tunes[tune].Value })] } : i)] };
        var entries = EntriesOf(played, pupil.Value, Path.GetFileName(path), notes);
        if (entries.IsEmpty) return Outcome<RecipeBook>.Failed([.. notes.Select(n => n with { Severity = Severity.Error })]);
        return Outcome<RecipeBook>.Of(new RecipeBook(pupil.Value, entries, LookOf(recipe, horn.Value, picture?.Value), recipe.Sound, [path, .. new[] { hornFile, imageFile }.OfType<string>(), .. tunes.Keys.Select(t => Path.Combine(folder, t.File))]), notes);
    }

    private static Dictionary<RecipeTune, Outcome<Tune>> Tunes(BookRecipe recipe, string folder, Instrument horn) =>
        recipe.Items.Select(i => i.Tune).OfType<RecipeTune>().Distinct().ToDictionary(t => t, t => TuneFile.Read(Path.Combine(folder, t.File), t.Part, horn));

    // A chapter whose first line is left out begins with the next.
    private static ImmutableArray<BookEntry> EntriesOf(BookRecipe recipe, Pupil pupil, string file, List<Problem> notes)
    {
        var made = recipe.Items.SelectMany(item => Made(item, pupil, file, notes).Select(e => (Entry: e, Item: item))).ToList();
        var again = SameMusic.In([.. made.Select(m => m.Entry.Exercise)]).ToDictionary(s => s.Again, s => s.First);
        notes.AddRange(again.Select(s => new Problem($"{file}: {made[s.Key].Item.Path}, {made[s.Key].Entry.Exercise.Title}", made[s.Key].Entry.Exercise.Title == made[s.Value].Entry.Exercise.Title ? "stands in the book already and is left out." : $"is the same music as {made[s.Value].Entry.Exercise.Title}, and left out.", "Order another register, valve or note.", Severity.Note)));
        var entries = ImmutableArray.CreateBuilder<BookEntry>();
        var chapter = "";
        foreach (var (entry, item) in made.Where((_, i) => !again.ContainsKey(i)))
        {
            entries.Add(item.Chapter == chapter ? entry : entry with { Chapter = item.Chapter });
            chapter = item.Chapter;
        }

        return entries.ToImmutable();
    }

    // A line of which nothing can be played is left out and told; the others still make a book.
    private static List<BookEntry> Made(RecipeItem item, Pupil pupil, string file, List<Problem> notes)
    {
        var entries = new List<BookEntry>();
        foreach (var order in item.Orders)
        {
            var made = ExerciseMaker.Make(order, pupil);
            notes.AddRange(made.Problems.Select(p => p with { Where = $"{file}: {item.Path}, {p.Where}", Severity = made.Succeeded ? p.Severity : Severity.Warning }));
            if (made.Succeeded) entries.AddRange(made.Value.Exercises.Select(e => new BookEntry(e)));
        }

        return [.. entries.DistinctBy(e => e.Exercise.Id)];
    }

    private static Outcome<Instrument> Horn(BookRecipe recipe, string path, string folder, out string? file)
    {
        file = null;
        var name = recipe.Instrument ?? Catalogue.DefaultId;
        if (Catalogue.Find(name) is { } known) return Outcome<Instrument>.Of(known);
        file = Path.Combine(folder, name);
        return File.Exists(file)
            ? Files.Read(file, InstrumentFile.Read)
            : Outcome<Instrument>.Failed($"{Path.GetFileName(path)}: $.instrument", $"'{name}' is neither an id nor a file beside the recipe.", $"Ids: {string.Join(", ", Catalogue.Ids)}.");
    }

    private static BookOptions LookOf(BookRecipe recipe, Instrument horn, BookImage? image) => new()
    {
        Paper = recipe.IsLetter ? Paper.Letter : Paper.A4,
        Title = recipe.Title.Length > 0 ? recipe.Title : "Exercises",
        Header = recipe.Header,
        For = recipe.For,
        Date = recipe.Date,
        Instrument = horn.Name,
        Image = image,
        Syllable = recipe.Syllable,
        RepeatsWords = recipe.RepeatsWords,
        MusicSize = recipe.IsLarge ?? recipe.Level <= 2 ? 1 : 0.88,
    };
}
