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
    private readonly PlayerOptions player = new();
    private readonly Option<string[]> locks = new("--lock") { Description = "Fix a note: its number as plan lists it (from 0; each repeat has its own) and a setting, e.g. 1=4, 6=F1, 3=open4 (repeatable).", HelpName = "N=SETTING" };

    public PlanOptions(string? partOption = null)
    {
        if (partOption is not null) part = new(partOption) { Description = part.Description, HelpName = "PART" };
        locks.Validators.Add(r => PlayerOptions.Each(r, t => TryLock(t, out _), "is not NOTE=SETTING, for instance 1=4 or 6=F1"));
    }

    /// <summary>Adds every option to a command.</summary>
    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[instrument, part, voice, tempo, locks]) command.Add(option);
        player.AddTo(command);
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

    private PlanSettings Settings(ParseResult result) => player.Settings(result) with
    {
        Locks = [.. (result.GetValue(locks) ?? []).Select(t => TryLock(t, out var l) ? l : throw new ArgumentException(t))],
    };

    private static bool TryLock(string text, out NoteLock noteLock)
    {
        noteLock = new NoteLock(-1, SettingPattern.AnyValve);
        var parts = text.Split('=');
        if (parts.Length != 2 || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var index)) return false;
        if (!SettingPattern.TryParse(parts[1], out var pattern)) return false;
        noteLock = new NoteLock(index, pattern);
        return true;
    }
}
