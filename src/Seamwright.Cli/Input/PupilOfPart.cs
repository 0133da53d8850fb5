using System.CommandLine;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;

namespace Seamwright.Cli.Input;

/// <summary><c>--level</c>: whose range a part is looked at for.</summary>
internal sealed class PupilOfPart
{
    private const int UsualLevel = 3;

    private readonly Option<int?> level = CommonOptions.Whole("--level", $"Whose range: 1, the first year, to 6, the profession. Default: {UsualLevel}, or what the part needs.", Levels.Lowest, Levels.Highest);

    public void AddTo(Command command) => command.Add(level);

    /// <summary>The pupil who plays a planned part.</summary>
    public Pupil Of(PlannedSheet sheet, ParseResult result) =>
        Pupil.Of(sheet.Plan.Instrument, sheet.Settings, LevelOf(sheet, result));

    /// <summary>The pupil whose keys are looked for: of the level given; else the usual one, with room for the part as it is written and no more.</summary>
    public Pupil Holding(PlannedSheet sheet, ParseResult result)
    {
        var pupil = Pupil.Of(sheet.Plan.Instrument, sheet.Settings, result.GetValue(level) ?? UsualLevel);
        if (result.GetValue(level) is not null || sheet.Plan.Notes.IsEmpty) return pupil;
        var (low, high) = (sheet.Plan.Notes.Min(n => n.Note.Pitch), sheet.Plan.Notes.Max(n => n.Note.Pitch));
        return pupil with { Lowest = low < pupil.Lowest ? low : pupil.Lowest, Highest = high > pupil.Highest ? high : pupil.Highest };
    }

    /// <summary>The same pupil one level on; null at the last.</summary>
    public Pupil? Later(PlannedSheet sheet, ParseResult result) =>
        LevelOf(sheet, result) is var now && now < Levels.Highest ? Pupil.Of(sheet.Plan.Instrument, sheet.Settings, now + 1) : null;

    private int LevelOf(PlannedSheet sheet, ParseResult result) => result.GetValue(level) ?? Math.Max(UsualLevel, Needed(sheet));

    private static int Needed(PlannedSheet sheet) => sheet.Plan.Notes.IsEmpty
        ? Levels.Lowest
        : Levels.OfRange(sheet.Plan.Instrument, sheet.Plan.Notes.MinBy(n => n.Note.Pitch)!.Note.Pitch, sheet.Plan.Notes.MaxBy(n => n.Note.Pitch)!.Note.Pitch);
}
