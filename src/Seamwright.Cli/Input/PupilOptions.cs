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
    private readonly Option<string> clef = CommonOptions.Choice("--clef", "Clef", Chosen, Chosen, "bass", "tenor", "alto", "treble-bb");
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
        return PupilRange.Pupil(horn.Value, player.Settings(result), result.GetValue(level) ?? 3, wished, name == Chosen ? null : SheetLook.Clef(name), "--range");
    }
}

/// <summary>A pupil's lowest and highest note.</summary>
internal static class PupilRange
{
    /// <summary>Reads <c>F2-D4</c>, the lower note first.</summary>
    public static bool TryParse(string? text, out (Pitch Low, Pitch High) range)
    {
        range = default;
        var parts = (text ?? "").Split('-', StringSplitOptions.TrimEntries);
        if (parts.Length != 2 || !Pitch.TryParse(parts[0], out var low) || !Pitch.TryParse(parts[1], out var high) || high < low) return false;
        range = (low, high);
        return true;
    }

    /// <summary>A pupil of a level, or of a range that the instrument has.</summary>
    /// <param name="horn">Any.</param>
    /// <param name="settings">Who plays.</param>
    /// <param name="level">1 to 6; gives the range where none is wished.</param>
    /// <param name="wished">Lowest and highest note.</param>
    /// <param name="clef">Null to choose.</param>
    /// <param name="where">For messages: where the range was said.</param>
    public static Outcome<Pupil> Pupil(Core.Instruments.Instrument horn, Core.Planning.PlanSettings settings, int level, (Pitch Low, Pitch High)? wished, Clef? clef, string where)
    {
        var pupil = Core.Exercises.Pupil.Of(horn, settings, level) with { Clef = clef };
        if (wished is not { } ends) return Outcome<Pupil>.Of(pupil);
        var (first, last) = horn.Range();
        if (ends.High < first || ends.Low > last)
            return Outcome<Pupil>.Failed(where, $"{ends.Low.ToDisplay()} to {ends.High.ToDisplay()} lies outside the {horn.Name} ({first.ToDisplay()} to {last.ToDisplay()}).", "Give notes it has.");
        return Outcome<Pupil>.Of(pupil with { Lowest = ends.Low < first ? first : ends.Low, Highest = ends.High > last ? last : ends.High });
    }
}
