namespace Seamwright.Engraving.Pictures;

/// <summary>Fills outlines with soft edges: for every dot the exact share of its area that lies inside.</summary>
/// <remarks>Every edge leaves its signed area in the dots it crosses; summed along a row that is the winding number times the
/// coverage (exact-area sampling, E. Catmull, "A hidden-surface algorithm with anti-aliasing", SIGGRAPH 1978, in its summed form).
/// Pieces of one fill that overlap must turn the same way round: then their sum, limited to 1, is their union.</remarks>
internal sealed class CoverageRaster(Picture picture)
{
    private readonly int width = picture.Width, height = picture.Height;
    private readonly float[] area = new float[(picture.Width + 2) * picture.Height];
    private int left = int.MaxValue, top = int.MaxValue, right = -1, bottom = -1;

    /// <summary>Adds an edge, in dots from the top left corner.</summary>
    public void Edge(double x0, double y0, double x1, double y1)
    {
        if (y0 == y1) return;
        var way = y0 < y1 ? 1f : -1f;
        if (y0 > y1) (x0, y0, x1, y1) = (x1, y1, x0, y0);
        if (y1 <= 0 || y0 >= height) return;
        var slope = (x1 - x0) / (y1 - y0);
        var x = y0 < 0 ? x0 - (y0 * slope) : x0;
        var (first, last) = (Math.Max(0, (int)Math.Floor(y0)), Math.Min(height, (int)Math.Ceiling(y1)));
        for (var y = first; y < last; y++)
        {
            var dy = Math.Min(y + 1, y1) - Math.Max(y, y0);
            var next = x + (slope * dy);
            Span(y, Math.Clamp(Math.Min(x, next), 0, width), Math.Clamp(Math.Max(x, next), 0, width), (float)dy * way);
            x = next;
        }

        (top, bottom) = (Math.Min(top, first), Math.Max(bottom, last - 1));
    }

    /// <summary>Inks what the edges enclose and forgets them.</summary>
    /// <param name="ink">The colour.</param>
    public void Fill(Ink ink)
    {
        for (var y = top; y <= bottom; y++)
        {
            var row = area.AsSpan((y * (width + 2)) + left, right - left + 1);
            var dots = picture.Dots.AsSpan(4 * y * width);
            var sum = 0f;
            for (var i = 0; i < row.Length; i++)
            {
                sum += row[i];
                row[i] = 0;
                if (left + i < width && Math.Abs(sum) > 1f / 512) Blend(dots.Slice(4 * (left + i), 4), ink, Math.Min(1, Math.Abs(sum)));
            }
        }

        (left, top, right, bottom) = (int.MaxValue, int.MaxValue, -1, -1);
    }

    private static void Blend(Span<byte> dot, Ink ink, float cover)
    {
        var rest = 1 - cover;
        dot[0] = (byte)((ink.Red * cover) + (dot[0] * rest) + 0.5f);
        dot[1] = (byte)((ink.Green * cover) + (dot[1] * rest) + 0.5f);
        dot[2] = (byte)((ink.Blue * cover) + (dot[2] * rest) + 0.5f);
        dot[3] = (byte)((255 * cover) + (dot[3] * rest) + 0.5f);
    }

    // One edge's piece in one row, from x0 to x1 going right, of signed height d.
    private void Span(int y, double x0, double x1, float d)
    {
        var row = area.AsSpan(y * (width + 2), width + 2);
        var (a, b) = ((int)x0, (int)Math.Ceiling(x1));
        (left, right) = (Math.Min(left, a), Math.Max(right, Math.Max(b, a + 1)));
        if (b <= a + 1)
        {
            var middle = (float)(((x0 + x1) / 2) - a);
            row[a] += d * (1 - middle);
            row[a + 1] += d * middle;
            return;
        }

        // The area to the right of the edge grows as a parabola in the first and last dot and evenly between.
        var perDot = d / (float)(x1 - x0);
        var before = 0f;
        for (var i = a; i < b; i++)
        {
            var (from, to) = (Math.Max(x0, i), Math.Min(x1, i + 1));
            var inside = (float)(to - from) * perDot;
            var share = (float)(i + 1 - ((from + to) / 2));
            row[i] += before + (inside * share);
            before = inside * (1 - share);
        }

        row[b] += before;
    }
}
