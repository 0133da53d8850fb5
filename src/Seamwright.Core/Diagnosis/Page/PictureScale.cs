namespace Seamwright.Core.Diagnosis.Page;

/// <summary>One row of a picture: values up, from a lowest to a highest, over the picture's own time.</summary>
/// <param name="Top">Upper edge, in units of the picture.</param>
/// <param name="Bottom">Lower edge.</param>
/// <param name="Low">Value at the lower edge.</param>
/// <param name="High">Value at the upper edge, above <paramref name="Low"/>.</param>
internal readonly record struct PictureRow(double Top, double Bottom, double Low, double High)
{
    public double Y(double value) => Bottom - ((Math.Clamp(value, Low, High) - Low) / (High - Low) * (Bottom - Top));

    public bool Holds(double value) => value >= Low && value <= High;
}

/// <summary>The time all rows of a picture share.</summary>
/// <param name="From">Seconds at the left edge.</param>
/// <param name="To">Seconds at the right edge.</param>
internal readonly record struct PictureTime(double From, double To)
{
    public const double Left = 38, Right = 334;

    public double X(double time) => Left + ((Math.Clamp(time, From, To) - From) / (To - From) * (Right - Left));

    public bool Shows(double time) => time >= From && time <= To;

    /// <summary>Around moments, with air on both sides: at least 0.5 s, at most 1.4 s.</summary>
    public static PictureTime Around(double centre, IEnumerable<double> moments)
    {
        const double Air = 0.12, LeastHalf = 0.25, MostHalf = 0.7;
        var half = moments.Select(m => Math.Abs(m - centre) + Air).Append(LeastHalf).Max();
        return new(centre - Math.Min(half, MostHalf), centre + Math.Min(half, MostHalf));
    }

    /// <summary>Round times to name, 4 to 7 of them.</summary>
    public IEnumerable<double> Ticks()
    {
        var step = To - From > 0.75 ? 0.2 : 0.1;
        for (var i = Math.Ceiling((From + 0.02) / step); i * step <= To - 0.02; i++) yield return i * step;
    }
}
