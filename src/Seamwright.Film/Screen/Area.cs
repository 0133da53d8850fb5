namespace Seamwright.Film.Screen;

/// <summary>A rectangle of dots: from its left and top edge up to, and not with, its right and bottom edge.</summary>
public readonly record struct Area(int Left, int Top, int Right, int Bottom)
{
    public bool IsEmpty => Right <= Left || Bottom <= Top;

    public int Width => Right - Left;

    public int Height => Bottom - Top;

    public static Area Sized(int left, int top, int width, int height) => new(left, top, left + width, top + height);

    /// <summary>What both have; the empty area at the origin where that is nothing.</summary>
    public Area Within(Area other)
    {
        var both = new Area(Math.Max(Left, other.Left), Math.Max(Top, other.Top), Math.Min(Right, other.Right), Math.Min(Bottom, other.Bottom));
        return both.IsEmpty ? default : both;
    }

    /// <summary>The smallest area around both; an empty one does not count.</summary>
    public Area With(Area other) => IsEmpty ? other : other.IsEmpty ? this
        : new(Math.Min(Left, other.Left), Math.Min(Top, other.Top), Math.Max(Right, other.Right), Math.Max(Bottom, other.Bottom));
}
