using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>What a teacher wants in a book of exercises, before anything is made; docs/book-recipe.md tells every field.</summary>
public sealed record BookRecipe
{
    public string Title { get; init; } = "";

    /// <summary>The teacher's own line on the cover; empty for none.</summary>
    public string Header { get; init; } = "";

    public string For { get; init; } = "";

    /// <summary>As the teacher writes it; empty for none.</summary>
    public string Date { get; init; } = "";

    /// <summary>Name of a picture's file, seen from the recipe's folder; null for none.</summary>
    public string? Image { get; init; }

    /// <summary>US letter instead of A4.</summary>
    public bool IsLetter { get; init; }

    /// <summary>An id of the catalogue, or the name of an instrument's file, seen from the recipe's folder; null for the usual one.</summary>
    public string? Instrument { get; init; }

    public int Level { get; init; } = 3;

    /// <summary>Lowest and highest note; null for the level's.</summary>
    public (Pitch Low, Pitch High)? Range { get; init; }

    /// <summary>Null chooses.</summary>
    public Clef? Clef { get; init; }

    /// <summary>Arm, valves, ways of tonguing.</summary>
    public PlanSettings Settings { get; init; } = new();

    /// <summary>What the soft tongue says. Default "du".</summary>
    public string Syllable { get; init; } = "du";

    /// <summary>Large staves, for beginners; null: large up to level 2.</summary>
    public bool? IsLarge { get; init; }

    /// <summary>Whether purpose and ways of practising are printed with every exercise, or only where they are new.</summary>
    public bool RepeatsWords { get; init; } = true;

    /// <summary>Of the play-alongs.</summary>
    public BookSound Sound { get; init; } = new();

    /// <summary>At least one, in the order of the book.</summary>
    public required ImmutableArray<RecipeItem> Items { get; init; }
}

/// <summary>A recipe as far as it could be read.</summary>
/// <param name="Recipe">With the usual value where a mistake stands.</param>
/// <param name="Problems">Every mistake, an error each; nothing can be made while there is one.</param>
public sealed record RecipeDraft(BookRecipe Recipe, ImmutableArray<Problem> Problems);

/// <summary>One line of a recipe, which makes one exercise or several.</summary>
/// <param name="Path">Where it stands in its file, for messages.</param>
/// <param name="Chapter">Heads a chapter that begins here; empty where it goes on.</param>
/// <param name="Orders">One for each register.</param>
public sealed record RecipeItem(string Path, string Chapter, ImmutableArray<ExerciseOrder> Orders)
{
    /// <summary>Where music to draw exercises from is found; null for none.</summary>
    public RecipeTune? Tune { get; init; }
}

/// <summary>A piece that exercises are drawn from.</summary>
/// <param name="File">A MusicXML file, seen from the recipe's folder.</param>
/// <param name="Part">Its id, name or number; null for the one that fits the instrument.</param>
public sealed record RecipeTune(string File, string? Part);
