using Seamwright.Core.Units;

namespace Seamwright.Engraving;

public enum Paper
{
    /// <summary>210 × 297 mm.</summary>
    A4,

    /// <summary>8.5 × 11 inches.</summary>
    Letter,
}

/// <summary>What a sheet shows and how.</summary>
public sealed record SheetOptions
{
    public Paper Paper { get; init; } = Paper.A4;

    /// <summary>One clef throughout; null keeps the part's own clefs. Treble in B-flat is written a major ninth above its sound.</summary>
    public Clef? Clef { get; init; }

    /// <summary>What the tongue says in a soft tongue, as the teacher's school has it; up to 8 characters are printed. Default "du".</summary>
    public string Syllable { get; init; } = "du";

    /// <summary>A line of the teacher's own above the title, for instance a pupil's name; empty for none.</summary>
    public string TeacherLine { get; init; } = "";

    /// <summary>Printed under the title; empty takes the plan's instrument, or else the part's name.</summary>
    public string InstrumentName { get; init; } = "";

    /// <summary>Quarter notes a minute to print at the beginning in place of the part's own first tempo; null keeps that.</summary>
    public double? QuartersPerMinute { get; init; }

    /// <summary>Slide positions above the staff.</summary>
    public bool ShowPositions { get; init; } = true;

    /// <summary>Kinds of change below the staff.</summary>
    public bool ShowChanges { get; init; } = true;

    /// <summary>The line that explains what this sheet uses.</summary>
    public bool ShowLegend { get; init; } = true;

    /// <summary>Two lines at the foot of the last page about rest and pain.</summary>
    public bool ShowCautions { get; init; } = true;
}
