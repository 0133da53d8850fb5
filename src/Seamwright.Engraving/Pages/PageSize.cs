namespace Seamwright.Engraving.Pages;

/// <summary>A sheet of paper and its margins, in hundredths of a millimetre.</summary>
internal sealed record PageSize(int Width, int Height)
{
    /// <summary>A point, the printers' unit: 1/72 inch.</summary>
    public const double Point = 2540.0 / 72;

    public const int Side = 1500;

    public const int Top = 1700;

    /// <summary>Room for two caution lines and the page number.</summary>
    public const int Bottom = 2000;

    public int TextWidth => Width - (2 * Side);

    public int Right => Width - Side;

    public static PageSize Of(Paper paper) => paper == Paper.Letter ? new(21590, 27940) : new(21000, 29700);
}
