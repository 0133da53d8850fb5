namespace Seamwright.Core.Exercises;

/// <summary>What the play-alongs of a book are made of, in the words of the recipe; docs/book-recipe.md tells every field.</summary>
public sealed record BookSound
{
    public static readonly IReadOnlyList<string> TurnWords = ["example-then-you", "example", "you"];
    public static readonly IReadOnlyList<string> ClickWords = ["throughout", "count-in", "none"];
    public static readonly IReadOnlyList<string> DroneWords = ["none", "tonic", "fifth", "both"];
    public static readonly IReadOnlyList<string> LadderWords = ["all", "slowest", "quickest"];

    /// <summary>One of <see cref="TurnWords"/>: each phrase is played and then left to the pupil, all is played, or nobody but the pupil plays.</summary>
    public string Turns { get; init; } = TurnWords[0];

    /// <summary>One of <see cref="ClickWords"/>.</summary>
    public string Click { get; init; } = ClickWords[0];

    /// <summary>One of <see cref="DroneWords"/>: a held note of the key.</summary>
    public string Drone { get; init; } = DroneWords[0];

    /// <summary>Bars counted before each round, 0 to 8; null for one, or none without a click.</summary>
    public int? CountIn { get; init; }

    /// <summary>One of <see cref="LadderWords"/>: which of an exercise's tempos are heard, slow to fast.</summary>
    public string Ladder { get; init; } = LadderWords[0];

    /// <summary>How often each tempo comes, 1 to <see cref="MostRounds"/>.</summary>
    public int Rounds { get; init; } = 1;

    public const int MostRounds = 4;

    /// <summary>Reads the member <c>sound</c>.</summary>
    /// <param name="root">Of a recipe; mistakes are noted there.</param>
    internal static BookSound Read(JsonFields root)
    {
        if (root.Object("sound") is not { } fields) return new();
        var sound = new BookSound
        {
            Turns = fields.Choice("turns", [.. TurnWords]) ?? TurnWords[0],
            Click = fields.Choice("click", [.. ClickWords]) ?? ClickWords[0],
            Drone = fields.Choice("drone", [.. DroneWords]) ?? DroneWords[0],
            CountIn = fields.Whole("countIn", 0, 8),
            Ladder = fields.Choice("ladder", [.. LadderWords]) ?? LadderWords[0],
            Rounds = fields.Whole("rounds", 1, MostRounds) ?? 1,
        };
        fields.RejectUnknown();
        if (sound.IsSilent) fields.Wrong(fields.Path, "leaves nothing to be heard: no example, no click, no drone.", "Ask for one of them.");
        return sound;
    }

    /// <summary>The tempos of the rounds, in order.</summary>
    public IEnumerable<double> TemposOf(Exercise exercise)
    {
        IEnumerable<double> tempos = Ladder switch
        {
            "slowest" => [exercise.Tempos[0]],
            "quickest" => [exercise.Tempos[^1]],
            _ => exercise.Tempos,
        };
        return tempos.SelectMany(t => Enumerable.Repeat(t, Rounds));
    }

    private bool IsSilent => Turns == "you" && Drone == "none" && (Click == "none" || (Click == "count-in" && CountIn == 0));
}
