using Seamwright.Engraving.Pictures;

namespace Seamwright.Film.Screen;

/// <summary>An opaque picture that is drawn on: red, green and blue, a byte each.</summary>
/// <remarks>Nothing here allocates once it is made; what lies outside is left out.</remarks>
internal sealed class Canvas(int width, int height)
{
    public Area Whole { get; } = new(0, 0, width, height);

    /// <summary>Three bytes a dot, row by row from the top.</summary>
    public byte[] Dots { get; } = new byte[3 * width * height];

    public Span<byte> Row(int y, int left, int right) => Dots.AsSpan(3 * ((y * width) + left), 3 * (right - left));

    public Area Fill(Area area, Ink ink)
    {
        var inside = area.Within(Whole);
        for (var y = inside.Top; y < inside.Bottom; y++)
        {
            var row = Row(y, inside.Left, inside.Right);
            for (var i = 0; i < row.Length; i += 3) (row[i], row[i + 1], row[i + 2]) = (ink.Red, ink.Green, ink.Blue);
        }

        return inside;
    }

    /// <summary>Lays a transparent colour over it, as a marker pen does: ink stays ink.</summary>
    public Area Tint(Area area, Ink ink)
    {
        var inside = area.Within(Whole);
        for (var y = inside.Top; y < inside.Bottom; y++)
        {
            var row = Row(y, inside.Left, inside.Right);
            for (var i = 0; i < row.Length; i += 3)
            {
                row[i] = Times(row[i], ink.Red);
                row[i + 1] = Times(row[i + 1], ink.Green);
                row[i + 2] = Times(row[i + 2], ink.Blue);
            }
        }

        return inside;
    }

    /// <summary>Lays a picture over it.</summary>
    /// <param name="picture">With its own opacity.</param>
    /// <param name="left">Where its left edge goes; may lie outside.</param>
    /// <param name="top">Where its top edge goes; may lie outside.</param>
    /// <param name="strength">0 (not seen) to 256.</param>
    public Area Lay(Picture picture, int left, int top, int strength = 256)
    {
        var inside = Area.Sized(left, top, picture.Width, picture.Height).Within(Whole);
        for (var y = inside.Top; y < inside.Bottom; y++)
            Lay(picture.Row(y - top).Slice(4 * (inside.Left - left), 4 * Math.Max(0, inside.Width)), Row(y, inside.Left, Math.Max(inside.Left, inside.Right)), strength);
        return inside;
    }

    public void CopyFrom(Canvas other, Area area)
    {
        var inside = area.Within(Whole);
        for (var y = inside.Top; y < inside.Bottom; y++) other.Row(y, inside.Left, inside.Right).CopyTo(Row(y, inside.Left, inside.Right));
    }

    private static void Lay(ReadOnlySpan<byte> from, Span<byte> onto, int strength)
    {
        for (int i = 0, j = 0; i < from.Length; i += 4, j += 3)
        {
            if (from[i + 3] == 0) continue;
            var rest = 255 - (from[i + 3] * strength / 256);
            onto[j] = (byte)((from[i] * strength / 256) + Times(onto[j], rest));
            onto[j + 1] = (byte)((from[i + 1] * strength / 256) + Times(onto[j + 1], rest));
            onto[j + 2] = (byte)((from[i + 2] * strength / 256) + Times(onto[j + 2], rest));
        }
    }

    // a·b/255, rounded.
    private static byte Times(int a, int b)
    {
        var product = (a * b) + 128;
        return (byte)((product + (product >> 8)) >> 8);
    }
}
