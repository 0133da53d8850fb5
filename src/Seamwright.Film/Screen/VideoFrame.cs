namespace Seamwright.Film.Screen;

/// <summary>A picture as an encoder takes it: brightness of every dot, then two colour differences of every square of four.</summary>
/// <remarks>ITU-R BT.709-6, table 3: Y' from 0.2126, 0.7152 and 0.0722 of R'G'B', 8 bits of narrow range; planes Y, Cb, Cr one after
/// another. The sum over a square's four dots stands for its colour.</remarks>
internal sealed class VideoFrame
{
    private readonly int width, height;

    /// <param name="width">Even.</param>
    /// <param name="height">Even.</param>
    public VideoFrame(int width, int height)
    {
        if (((width | height) & 1) != 0) throw new ArgumentException($"A frame of {width} × {height} dots has no whole squares of four.");
        (this.width, this.height) = (width, height);
        Bytes = new byte[width * height * 3 / 2];
    }

    public byte[] Bytes { get; }

    /// <summary>Takes over an area, widened to whole squares of four.</summary>
    public void Take(Canvas canvas, Area area)
    {
        var inside = new Area(area.Left & ~1, area.Top & ~1, (area.Right + 1) & ~1, (area.Bottom + 1) & ~1).Within(new(0, 0, width, height));
        for (var y = inside.Top; y < inside.Bottom; y += 2) TakeRows(canvas, y, inside.Left, inside.Right);
    }

    private void TakeRows(Canvas canvas, int y, int left, int right)
    {
        var upper = canvas.Row(y, left, right);
        var lower = canvas.Row(y + 1, left, right);
        var light = Bytes.AsSpan((y * width) + left, right - left);
        var lightBelow = Bytes.AsSpan(((y + 1) * width) + left, right - left);
        var chroma = (width * height) + (y / 2 * (width / 2)) + (left / 2);
        var blue = Bytes.AsSpan(chroma, (right - left) / 2);
        var red = Bytes.AsSpan(chroma + (width * height / 4), (right - left) / 2);
        for (int i = 0, j = 0; i < light.Length; i += 2, j += 6)
        {
            light[i] = Light(upper, j);
            light[i + 1] = Light(upper, j + 3);
            lightBelow[i] = Light(lower, j);
            lightBelow[i + 1] = Light(lower, j + 3);
            var r = upper[j] + upper[j + 3] + lower[j] + lower[j + 3];
            var g = upper[j + 1] + upper[j + 4] + lower[j + 1] + lower[j + 4];
            var b = upper[j + 2] + upper[j + 5] + lower[j + 2] + lower[j + 5];

            // Factors times 65536, of a sum of four dots.
            blue[i / 2] = (byte)(((-6596 * r) - (22189 * g) + (28784 * b) + (128 << 18) + (1 << 17)) >> 18);
            red[i / 2] = (byte)(((28784 * r) - (26145 * g) - (2639 * b) + (128 << 18) + (1 << 17)) >> 18);
        }
    }

    private static byte Light(Span<byte> rgb, int at) =>
        (byte)(((11966 * rgb[at]) + (40254 * rgb[at + 1]) + (4064 * rgb[at + 2]) + (16 << 16) + (1 << 15)) >> 16);
}
