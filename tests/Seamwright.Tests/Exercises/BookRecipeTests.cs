using System.Text;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

public class BookRecipeTests
{
    private static Outcome<BookRecipe> Read(string json) => BookRecipeFile.Read(new MemoryStream(Encoding.UTF8.GetBytes(json)), "book.json");

    [Fact]
    public void Every_mistake_is_told_with_its_place()
    {
        var read = Read("""
            {
              "schema": "seamwright.book/2", "titel": "Scales", "paper": "a5", "level": 7, "range": "D4-F2", "clef": "soprano", "music": 3,
              "player": { "maxPosition": 9, "valves": "no", "policy": "never", "prefer": "speed", "ban": ["6", "H4"], "arm": 1 },
              "syllable": "much too long",
              "exercises": [
                { "kind": "three-pases" },
                { "kind": "three-passes", "keys": ["Bb", "H"], "registers": ["low", "lowest"], "scale": "mayor", "octaves": 1.5, "way": "sideways" },
                { "kind": "three-passes", "note": "Bb3" },
                { "kind": "one-note", "note": "X3", "touches": [2, "3"] },
                { "kind": "one-note", "touches": [5] },
                { "kind": "two-notes", "positions": "1 to 4", "tempos": 60 },
                { "kind": "two-notes", "positions": "4-4" },
                { "kind": "two-notes", "tempos": [80, 60] },
                { "keys": "all" },
                "one-note"
              ]
            }
            """);
        Assert.False(read.Succeeded);
        var told = string.Join('\n', read.Problems)
            .Replace(string.Join(", ", ExerciseMaker.Kinds.Select(k => k.Name)), "(every kind)", StringComparison.Ordinal)
            .Replace(string.Join(", ", Scale.All.Select(s => s.Name)), "(every scale)", StringComparison.Ordinal);
        Golden.Check("book-recipe-mistakes.txt", told);
    }

    [Fact]
    public void An_empty_recipe_says_what_it_needs()
    {
        Assert.Equal(["book.json: $.schema", "book.json: $.exercises"], Read("{}").Problems.Select(p => p.Where));
        Assert.Contains("line 1", Assert.Single(Read("{").Problems).Where, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("docs")]
    [InlineData("init")]
    public void The_recipes_to_begin_with_make_every_exercise_they_name(string which)
    {
        var recipe = Read(which == "init" ? BookRecipeExample.Text : Documented()).Value;
        var pupil = PupilRange.Of(Catalogue.Find(recipe.Instrument!)!, recipe.Settings, recipe.Level, recipe.Range, recipe.Clef, "range").Value;
        foreach (var order in recipe.Items.SelectMany(i => i.Orders))
        {
            var made = ExerciseMaker.Make(order, pupil);
            Assert.True(made.Succeeded && (which == "docs" || made.Problems.IsEmpty), $"{order.Kind}: {string.Join("; ", made.Problems)}");
        }
    }

    [Fact]
    public void Members_reach_pupil_and_order()
    {
        var recipe = Read(Documented()).Value;
        Assert.Equal((true, Clef.Tenor, "loo", 4), (recipe.IsLetter, recipe.Clef, recipe.Syllable, recipe.Level));
        Assert.Equal((Pitch.Parse("F2"), Pitch.Parse("F4")), recipe.Range);
        Assert.Equal((6.0, false, TonguePolicy.EveryNote), (recipe.Settings.Player.FurthestPosition, recipe.Settings.Player.ValvesAllowed, recipe.Settings.Player.Policy));
        Assert.Equal(CostWeights.QuietArm, recipe.Settings.Weights);
        var scales = recipe.Items[0];
        Assert.Equal("Scales", scales.Chapter);
        Assert.Equal([Register.Low, Register.High], scales.Orders.Select(o => o.Register!.Value));
        Assert.Equal(12, scales.Orders[0].Keys!.Value.Length);
        Assert.Equal((2, 5), recipe.Items[1].Orders[0].Positions);
    }

    [Fact]
    public void Twelve_keys_are_twelve_and_none_is_spelled_with_more_signs_than_it_needs()
    {
        foreach (var scale in Scale.All)
        {
            var tonics = TwelveKeys.For(scale);
            Assert.Equal(12, tonics.Select(t => t.PitchClass).Distinct().Count());
            Assert.All(tonics, t => Assert.InRange(t.Fifths + (scale.Fifths ?? 0), -6, 6));
        }

        Assert.Equal(["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"], TwelveKeys.For(Scale.Find("major")!).Select(t => t.ToString()));
        Assert.Contains(new PitchName(Step.C, 1), TwelveKeys.For(Scale.Find("natural-minor")!));
    }

    [Fact]
    public void Sound_says_who_plays_what_and_in_which_tempos()
    {
        var sound = Read(Documented()).Value.Sound;
        Assert.Equal(("example", "count-in", "tonic", 2, "quickest", 2), (sound.Turns, sound.Click, sound.Drone, sound.CountIn, sound.Ladder, sound.Rounds));
        var exercise = Made.Of(new ExerciseOrder { Kind = "one-note", Tempos = [60, 72, 80] }, Pupil.Of(Catalogue.Default)).Single();
        Assert.Equal([80, 80], sound.TemposOf(exercise));
        Assert.Equal([60, 72, 80], new BookSound().TemposOf(exercise));
        Assert.Equal([60], (new BookSound { Ladder = "slowest" }).TemposOf(exercise));
    }

    [Theory]
    [InlineData("""{ "turns": "nobody", "drum": 1, "rounds": 9, "countIn": 1.5 }""", "$.sound.turns", "$.sound.drum", "$.sound.rounds", "$.sound.countIn")]
    [InlineData("""{ "turns": "you", "click": "none" }""", "$.sound")]
    [InlineData("""{ "turns": "you", "click": "count-in", "countIn": 0 }""", "$.sound")]
    [InlineData("3", "$.sound")]
    public void Mistakes_of_sound_are_told_with_their_place(string sound, params string[] places) =>
        Assert.Equal(places.Order(), Read($$"""{ "schema": "seamwright.book/1", "sound": {{sound}}, "exercises": [{ "kind": "one-note" }] }""").Problems.Select(p => p.Where["book.json: ".Length..]).Order());

    private static string Documented()
    {
        var docs = File.ReadAllText(Path.Combine(Repository.Root, "docs", "book-recipe.md"));
        var from = docs.IndexOf("```json", StringComparison.Ordinal) + 7;
        return docs[from..docs.IndexOf("```", from, StringComparison.Ordinal)];
    }
}
