namespace Seamwright.Core.Listening;

/// <summary>How deep a dip may have been that a room has filled.</summary>
/// <remarks>In the dip the player's own sound and what the room still holds of the old note meet partial by partial with random phases (Kuttruff,
/// Room Acoustics, chapter 3): their powers add on the mean, and sway about it by √(2·tone·tail + tail²) over the root of the number of partials that bear the level. All
/// depths whose reading could be the one that was taken make the interval.</remarks>
/// <param name="room">How the room answers.</param>
/// <param name="partials">How many bear the level of the old note, which sounds on.</param>
/// <param name="width">How long the dip lies below half its depth, seconds.</param>
/// <param name="isBesideTurn">Whether the pitch is the same about the dip as in the note beside it, and with it the room's answer.</param>
internal readonly struct FilledDip(Decay room, double partials, double width, bool isBesideTurn)
{
    private const double Step = 0.25;

    /// <summary>From the shallowest to the deepest, dB.</summary>
    /// <param name="depth">As it was fitted through the room's mean answer, dB.</param>
    public (double Low, double High) Around(double depth)
    {
        var (seen, _) = Shown(depth);
        var (low, high) = (depth, depth);
        for (var d = 0.0; d <= Dips.Deepest; d += Step)
        {
            var (power, sway) = Shown(d);
            if (Math.Abs(seen - power) > Bounding.NinetyPercent * sway) continue;
            (low, high) = (Math.Min(low, d), Math.Max(high, d));
        }

        return (low, high);
    }

    // Power at the bottom against that of the note as it is heard in the room, and its standard deviation.
    private (double Power, double Sway) Shown(double depth)
    {
        var share = room.Share;
        var own = Math.Pow(10, -depth / 10);
        var older = Math.Pow(10, -6 * (width / 2) / room.Seconds60);
        var tone = (1 - share) * own;
        var tail = share * (own + ((1 - own) * older));
        var power = tone + tail;

        // The note beside the dip, against which all is read, holds the same answer where the pitch is the same.
        var beside = (2 * share * (1 - share)) + (share * share);
        var common = isBesideTurn ? share * (Math.Sqrt(own) + ((1 - Math.Sqrt(own)) * older)) : 0;
        var together = (2 * (1 - share) * Math.Sqrt(own) * common) + (common * common);
        var variance = (2 * tone * tail) + (tail * tail) + (power * power * beside) - (2 * power * together);
        return (power, Math.Sqrt(Math.Max(0, variance) / partials));
    }
}
