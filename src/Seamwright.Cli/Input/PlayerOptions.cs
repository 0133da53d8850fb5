using System.CommandLine;
using System.CommandLine.Parsing;
using Seamwright.Core.Planning;

namespace Seamwright.Cli.Input;

/// <summary>Who plays, and what the planner likes: options of every command that plans.</summary>
internal sealed class PlayerOptions
{
    private readonly Option<double?> maxPosition = CommonOptions.Number("--max-position", "Furthest position the arm reaches, 1 to 8.", 1, 8);
    private readonly Option<bool> noValves = new("--no-valves") { Description = "Use the open horn only." };
    private readonly Option<string> policy = CommonOptions.Choice("--policy", "Where the soft tongue goes", "where-needed", "where-needed", "every-note", "natural-only");
    private readonly Option<string> prefer = CommonOptions.Choice("--prefer", "What the planner likes", "natural-first", "natural-first", "quiet-arm", "plain-positions");
    private readonly Option<string> legato = CommonOptions.Choice("--legato", "Which notes are joined", "auto", "auto", "as-written", "all");
    private readonly Option<double?> moveTime = CommonOptions.Number("--move-time", "Milliseconds for a slide move over one position. Default 160.", 20, 2000);
    private readonly Option<double?> tongueAt = CommonOptions.Number("--tongue-at", "Where in the arm's move the tongue touches, in per cent. Default 50.", 0, 100);
    private readonly Option<string[]> bans = new("--ban") { Description = "Forbid settings: 6, F, F5, valves (repeatable).", HelpName = "SETTING" };

    public PlayerOptions() => bans.Validators.Add(r => Each(r, t => SettingPattern.TryParse(t, out _), "is not a setting such as 6, F, F5 or valves"));

    /// <summary>Adds every option to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[maxPosition, noValves, policy, prefer, legato, moveTime, tongueAt, bans]) command.Add(option);
    }

    /// <summary>As they were given; without locks.</summary>
    public PlanSettings Settings(ParseResult result) => new()
    {
        Player = PlayerOf(result),
        Weights = CostWeights.Presets[result.GetValue(prefer)!],
        Bans = [.. (result.GetValue(bans) ?? []).Select(t => SettingPattern.TryParse(t, out var b) ? b : throw new ArgumentException(t))],
    };

    /// <summary>A complaint for each value that is no good.</summary>
    public static void Each(OptionResult result, Func<string, bool> good, string complaint)
    {
        foreach (var token in result.Tokens.Where(t => !good(t.Value))) result.AddError($"'{token.Value}' {complaint}.");
    }

    private Player PlayerOf(ParseResult result)
    {
        var player = new Player
        {
            FurthestPosition = result.GetValue(maxPosition),
            ValvesAllowed = !result.GetValue(noValves),
            Policy = PlayerWords.Policy(result.GetValue(policy)!),
            Legato = result.GetValue(legato) switch
            {
                "as-written" => LegatoScope.AsWritten,
                "all" => LegatoScope.All,
                _ => LegatoScope.AsWrittenOrAll,
            },
        };
        if (result.GetValue(moveTime) is { } ms) player = player with { MoveTime = Core.Units.Seconds.FromMilliseconds(ms) };
        return result.GetValue(tongueAt) is { } at ? player with { TongueAt = at / 100 } : player;
    }
}

/// <summary>The words for a player's ways, on command lines and in recipes.</summary>
internal static class PlayerWords
{
    public static readonly string[] Policies = ["where-needed", "every-note", "natural-only"];

    /// <summary>One of <see cref="Policies"/>.</summary>
    public static TonguePolicy Policy(string word) => word switch
    {
        "every-note" => TonguePolicy.EveryNote,
        "natural-only" => TonguePolicy.NaturalSlursOnly,
        _ => TonguePolicy.WhereItWouldSmear,
    };
}
