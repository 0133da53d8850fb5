namespace Seamwright.Engraving.Pictures;

/// <summary>A picture in dots: red, green, blue and opacity, a byte each, colours already weakened by the opacity.</summary>
public sealed class Picture
{
    /// <summary>A clear picture.</summary>
    /// <param name="width">At least 1.</param>
    /// <param name="height">At least 1.</param>
    public Picture(int width, int height)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(width, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(height, 1);
        (Width, Height, Dots) = (width, height, new byte[4 * width * height]);
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Four bytes a dot, row by row from the top.</summary>
    internal byte[] Dots { get; }

    /// <summary>One row's bytes.</summary>
    public ReadOnlySpan<byte> Row(int y) => Dots.AsSpan(4 * y * Width, 4 * Width);
}

/// <summary>A colour without opacity.</summary>
public readonly record struct Ink(byte Red, byte Green, byte Blue)
{
    public static readonly Ink Black = new(0, 0, 0);

    /// <summary>Reads <c>#rrggbb</c>.</summary>
    /// <exception cref="FormatException">It is something else.</exception>
    public static Ink Read(string text)
    {
        if (text.Length != 7 || text[0] != '#') throw new FormatException($"'{text}' is no colour such as #26221c.");
        var bytes = Convert.FromHexString(text.AsSpan(1));
        return new(bytes[0], bytes[1], bytes[2]);
    }
}
