using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>The reader's place in a bar.</summary>
internal sealed class Cursor(string part, RawBar bar)
{
    /// <summary>Longest bar that is believed: 64 whole notes, the longest a meter can say.</summary>
    public static readonly Beats Furthest = new(256, 1);

    public RawBar Bar { get; } = bar;

    public Beats Offset { get; private set; } = Beats.Zero;

    public Place Place => At(Offset);

    public Place At(Beats offset) => Places.Of(part, Bar, offset);

    /// <summary>Goes on by the length of a note.</summary>
    /// <returns>False where that would lead beyond any bar's end; the place is then its end.</returns>
    public bool Advance(Beats by) => To(Offset + by);

    /// <summary>Goes on or back without a note.</summary>
    /// <remarks>Files count in whole ticks while tuplets are read exactly, so a rounding of less than a tick is mended at the
    /// bar's two ends.</remarks>
    /// <returns>False where the way was cut at the start or at any bar's end.</returns>
    public bool Move(Beats by, Beats tick)
    {
        var to = Offset + by;
        var full = Bar.Meter.BarLength;
        if (by < Beats.Zero && to < tick && -to < tick) to = Beats.Zero;
        else if (by > Beats.Zero && to - full < tick && full - to < tick) to = full;
        return To(to);
    }

    private bool To(Beats to)
    {
        Offset = to < Beats.Zero ? Beats.Zero : to > Furthest ? Furthest : to;
        if (Offset > Bar.Extent) Bar.Extent = Offset;
        return Offset == to;
    }
}
