using System.CommandLine;
using Seamwright.Cli.Commands;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Input;

/// <summary>For whom exercises are made.</summary>
internal sealed class PupilOptions
{
    private const string Chosen = "chosen";
    private readonly Option<string?> instrument = InstrumentOption.WithDefault();
    private readonly Option<int?> level = CommonOptions.Whole("--level", "From 1, the first year, to 6, the profession: sets the range. Default 3.", Levels.Lowest, Levels.Highest);
    private readonly Option<string?> range = new("--range") { Description = "Lowest and highest note, at concert pitch, for instance F2-D4.", HelpName = "LOW-HIGH" };
    private readonly Option<string> clef = CommonOptions.Choice("--clef", "Clef", Chosen, [Chosen, .. ClefNames.All]);
    private readonly PlayerOptions player = new();

    public PupilOptions() => range.Validators.Add(r => PlayerOptions.Each(r, t => PupilRange.TryParse(t, out _), "is not two notes, the lower first, such as F2-D4"));

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[instrument, level, range, clef]) command.Add(option);
        player.AddTo(command);
    }

    /// <summary>The pupil, or what is wrong with the instrument's file or the range.</summary>
    public Outcome<Pupil> Pupil(ParseResult result)
    {
        var horn = InstrumentOption.Load(result.GetValue(instrument)!);
        if (!horn.Succeeded) return Outcome<Pupil>.Failed(horn.Problems);
        var wished = PupilRange.TryParse(result.GetValue(range), out var ends) ? ends : ((Pitch, Pitch)?)null;
        var name = result.GetValue(clef)!;
        return PupilRange.Of(horn.Value, player.Settings(result), result.GetValue(level) ?? 3, wished, name == Chosen ? null : SheetLook.Clef(name), "--range");
    }
}
