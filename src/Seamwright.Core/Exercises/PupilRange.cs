using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A pupil's lowest and highest note.</summary>
public static class PupilRange
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
    public static Outcome<Pupil> Of(Instrument horn, PlanSettings settings, int level, (Pitch Low, Pitch High)? wished, Clef? clef, string where)
    {
        var pupil = Pupil.Of(horn, settings, level) with { Clef = clef };
        if (wished is not { } ends) return Outcome<Pupil>.Of(pupil);
        var (first, last) = horn.Range();
        if (ends.High < first || ends.Low > last)
            return Outcome<Pupil>.Failed(where, $"{ends.Low.ToDisplay()} to {ends.High.ToDisplay()} lies outside the {horn.Name} ({first.ToDisplay()} to {last.ToDisplay()}).", "Give notes it has.");
        return Outcome<Pupil>.Of(pupil with { Lowest = ends.Low < first ? first : ends.Low, Highest = ends.High > last ? last : ends.High });
    }
}
