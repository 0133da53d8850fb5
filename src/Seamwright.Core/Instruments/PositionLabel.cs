namespace Seamwright.Core.Instruments;

/// <summary>How players name a setting: valve letters, then ♭ (further out) or ♯ (further in), then the whole position.</summary>
/// <remarks>On the open horn the name is the nearest whole position of the note's own semitone. On a valve side the slide
/// grows longer than the open horn's and the trade counts outward from the position passed last: 2.32 is "flat 2", 3.62
/// "flat 3", 4.90 plain "5" (common practice; matches the usual printed chart for the F attachment: 1, ♭2, ♭3, 5, ♭6, ♭7).</remarks>
public static class PositionLabel
{
    /// <summary>Within this distance of a whole position no sign is printed: 0.15, about 1.3 cm, the most a player takes as "in" the position.</summary>
    public const double PlainWithin = 0.15;

    /// <summary>From this far beyond a whole position a valve-side place is named by the next one.</summary>
    public const double NamedByNextFrom = 0.75;

    /// <summary>The label of a setting, for instance <c>4</c>, <c>♯2</c>, <c>F ♭2</c>, <c>D5</c>.</summary>
    public static string Of(SlideSetting setting) => Of(setting.Side, setting.Position, setting.Semitone);

    /// <summary>The label of a place of the slide.</summary>
    /// <param name="side">The tube that sounds.</param>
    /// <param name="position">In open-horn units, 1.0 closed.</param>
    /// <param name="semitone">The side's own from closed, 0 or more.</param>
    public static string Of(Side side, double position, int semitone)
    {
        var named = OfPosition(position, Whole(side, position, semitone));

        // "F ♭3": without the space a valve and a flat position read as a pitch.
        var signed = !char.IsAsciiDigit(named[0]);
        return side.Label + (signed && side.Label.Length > 0 ? " " : "") + named;
    }

    /// <summary>The whole position that names a setting, 1 to 8.</summary>
    public static int Whole(SlideSetting setting) => Whole(setting.Side, setting.Position, setting.Semitone);

    private static int Whole(Side side, double position, int semitone)
    {
        if (side.Valves.IsEmpty) return semitone + 1;
        var floor = Math.Floor(position);
        return (int)(position - floor >= NamedByNextFrom ? floor + 1 : floor);
    }

    private static string OfPosition(double position, int whole)
    {
        var off = position - whole;
        var sign = off > PlainWithin ? "♭" : off < -PlainWithin ? "♯" : "";
        return sign + whole;
    }
}
