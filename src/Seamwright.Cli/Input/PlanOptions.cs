using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Cli.Input;

/// <summary>A part and everything that decides how it is planned: shared by <c>plan</c>, <c>sheet</c>, <c>sound</c> and <c>hear</c>.</summary>
internal sealed class PlanOptions
{
    private readonly Option<string?> instrument = InstrumentOption.WithDefault();
    private readonly Option<string?> part = new("--part", "-p") { Description = "Which part: its id, name or number. Default: the one that fits the instrument.", HelpName = "PART" };
    private readonly Option<string?> voice = new("--voice") { Description = "Which voice of the part.", HelpName = "VOICE" };
    private readonly Option<double?> tempo = CommonOptions.Number("--tempo", "Quarter notes a minute; scales every tempo of the part.", 10, 400);
    private readonly KeyOptions key = new();
    private readonly Option<double?> maxPosition = CommonOptions.Number("--max-position", "Furthest position the arm reaches, 1 to 8.", 1, 8);
    private readonly Option<bool> noValves = new("--no-valves") { Description = "Use the open horn only." };
    private readonly Option<string> policy = CommonOptions.Choice("--policy", "Where the soft tongue goes", "where-needed", "where-needed", "every-note", "natural-only");
    private readonly Option<string> prefer = CommonOptions.Choice("--prefer", "What the planner likes", "natural-first", "natural-first", "quiet-arm", "plain-positions");
    private readonly Option<string> legato = CommonOptions.Choice("--legato", "Which notes are joined", "auto", "auto", "as-written", "all");
    private readonly Option<double?> moveTime = CommonOptions.Number("--move-time", "Milliseconds for a slide move over one position. Default 160.", 20, 2000);
    private readonly Option<double?> tongueAt = CommonOptions.Number("--tongue-at", "Where in the arm's move the tongue touches, in per cent. Default 50.", 0, 100);
    private readonly Option<string[]> locks = new("--lock") { Description = "Fix a note: its number as plan lists it (from 0; each repeat has its own) and a setting, e.g. 1=4, 6=F1, 3=open4 (repeatable).", HelpName = "N=SETTING" };
    private readonly Option<string[]> bans = new("--ban") { Description = "Forbid settings: 6, F, F5, valves (repeatable).", HelpName = "SETTING" };

    public PlanOptions(string? partOption = null)
    {
        if (partOption is not null) part = new(partOption) { Description = part.Description, HelpName = "PART" };
        locks.Validators.Add(r => Each(r, t => TryLock(t, out _), "is not NOTE=SETTING, for instance 1=4 or 6=F1"));
        bans.Validators.Add(r => Each(r, t => SettingPattern.TryParse(t, out _), "is not a setting such as 6, F, F5 or valves"));
    }

    /// <summary>Adds every option to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[instrument, part, voice, tempo, maxPosition, noValves, policy, prefer, legato, moveTime, tongueAt, locks, bans])
            command.Add(option);
        key.AddTo(command);
    }

    /// <summary>Reads the score and plans the part.</summary>
    /// <param name="path">A file of any kind that <see cref="AnyScore"/> reads.</param>
    /// <param name="result">The parsed command line.</param>
    /// <returns>The plan with its sheet, or every reason why there is none.</returns>
    public Outcome<PlannedSheet> Load(string path, ParseResult result)
    {
        var horn = InstrumentOption.Load(result.GetValue(instrument)!);
        var score = Files.Read(path, (stream, name) => AnyScore.Read(stream, name));
        if (!horn.Succeeded || !score.Succeeded) return Outcome<PlannedSheet>.Failed([.. horn.Problems, .. score.Problems]);
        return PlannedSheet.Make(score.Value, horn.Value, result.GetValue(part), result.GetValue(voice), result.GetValue(tempo), Settings(result), score.Problems, key.Wish(result));
    }

    /// <summary>The instrument alone, for a recording without a part.</summary>
    public Outcome<Core.Instruments.Instrument> Instrument(ParseResult result) => InstrumentOption.Load(result.GetValue(instrument)!);

    /// <summary>The tempo that was asked for, if one was.</summary>
    public double? TempoAsked(ParseResult result) => result.GetValue(tempo);

    /// <summary>Whether a tempo was asked for.</summary>
    public bool HasTempo(CommandResult result) => result.GetResult(tempo) is not null;

    private PlanSettings Settings(ParseResult result) => new()
    {
        Player = PlayerOf(result),
        Weights = CostWeights.Presets[result.GetValue(prefer)!],
        Locks = [.. (result.GetValue(locks) ?? []).Select(t => TryLock(t, out var l) ? l : throw new ArgumentException(t))],
        Bans = [.. (result.GetValue(bans) ?? []).Select(t => SettingPattern.TryParse(t, out var b) ? b : throw new ArgumentException(t))],
    };

    private Player PlayerOf(ParseResult result)
    {
        var player = new Player
        {
            FurthestPosition = result.GetValue(maxPosition),
            ValvesAllowed = !result.GetValue(noValves),
            Policy = result.GetValue(policy) switch
            {
                "every-note" => TonguePolicy.EveryNote,
                "natural-only" => TonguePolicy.NaturalSlursOnly,
                _ => TonguePolicy.WhereItWouldSmear,
            },
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

    private static bool TryLock(string text, out NoteLock noteLock)
    {
        noteLock = new NoteLock(-1, SettingPattern.AnyValve);
        var parts = text.Split('=');
        if (parts.Length != 2 || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var index)) return false;
        if (!SettingPattern.TryParse(parts[1], out var pattern)) return false;
        noteLock = new NoteLock(index, pattern);
        return true;
    }

    private static void Each(OptionResult result, Func<string, bool> good, string complaint)
    {
        foreach (var token in result.Tokens.Where(t => !good(t.Value))) result.AddError($"'{token.Value}' {complaint}.");
    }
}
