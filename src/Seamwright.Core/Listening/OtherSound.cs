using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A sound of steady pitch in the room that is not the player: from a loudspeaker, another instrument, a machine.</summary>
/// <param name="Db">Its level, dB re full scale; a little higher than it was read, since it is seen only where it does not hide behind the player.</param>
/// <param name="Below">How far that lies below the player's notes, dB.</param>
/// <param name="Hz">Of the lowest of its lines, where it holds one tone all along; null where it plays the player's own notes.</param>
/// <param name="Notes">In how many notes it was found.</param>
/// <param name="Looked">In how many it could have been.</param>
/// <param name="First">The first moment at which it was found, seconds.</param>
/// <param name="Last">The last one.</param>
internal sealed record OtherSound(double Db, double Below, double? Hz, int Notes, int Looked, double First, double Last)
{
    // 35 dB down it moves no level by more than 0.16 dB.
    private const double Matters = 35;

    /// <summary>Its amplitude against a note's, 0 to 0.9; 0 where it is too soft to matter.</summary>
    /// <param name="db">The note's level.</param>
    public double Strength(double db) => db - Db > Matters ? 0 : Math.Min(0.9, Math.Pow(10, (Db - db) / 20));

    /// <summary>What to say of it.</summary>
    public Problem Remark()
    {
        var what = Hz is { } hz ? $"a tone of {hz:0} Hz is held all along" : "the same notes are played along";
        var soft = Below >= 1 ? $", about {Below:0} dB softer than the player" : ", as loud as the player";
        return new(
            "the recording",
            $"another sound is heard beside the player, in {Notes} of {Looked} notes between {new Seconds(First)} and {new Seconds(Last)}: {what}{soft}.",
            "What it may have made or hidden is not told. Hear a play-along or a drone through headphones, or switch it off, and record again.",
            Severity.Warning);
    }
}

/// <summary>What a sound that meets the player's in any phase leaves open of the player's level.</summary>
/// <param name="Strength">Its amplitude against the note's, 0 to 0.9.</param>
internal readonly record struct Meeting(double Strength)
{
    /// <summary>How far the level of a steady tone may lie below and above that of the player alone, dB.</summary>
    public (double Below, double Above) Level => (-20 * Math.Log10(1 - Strength), 20 * Math.Log10(1 + Strength));

    /// <summary>How far the player alone may have fallen where the level has fallen so far, dB: as far as all there is where the other sound
    /// alone may be heard.</summary>
    /// <param name="depth">As heard, dB.</param>
    /// <param name="deepest">All there is, dB.</param>
    public (double Low, double High) Depth(double depth, double deepest)
    {
        var heard = Math.Pow(10, -depth / 20);
        var (most, least) = ((heard * (1 + Strength)) + Strength, (heard * (1 - Strength)) - Strength);
        return (Math.Max(0, -20 * Math.Log10(most)), least <= 0 ? deepest : Math.Min(deepest, -20 * Math.Log10(least)));
    }
}
