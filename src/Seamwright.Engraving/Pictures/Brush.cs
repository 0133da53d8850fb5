using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Pictures;

/// <summary>Turns paths into edges: filled, or followed by a pen.</summary>
/// <remarks>Corners of a stroke are round: at the widths of a sheet's pens no eye tells them from mitred ones.</remarks>
internal sealed class Brush(Picture picture)
{
    private const int CornersOfDot = 16;
    private readonly CoverageRaster raster = new(picture);
    private readonly List<List<Spot>> lines = [];
    private readonly List<bool> closed = [];

    /// <summary>Fills by the nonzero rule, for figures whose parts do not overlap the wrong way round.</summary>
    public void Fill(IReadOnlyList<PathStep> steps, Transform transform, Ink ink)
    {
        Flatten(steps, transform);
        foreach (var line in lines) Around(line);
        raster.Fill(ink);
    }

    /// <summary>Follows a path.</summary>
    /// <param name="steps">The path.</param>
    /// <param name="transform">To dots; the pen grows with it.</param>
    /// <param name="pen">Its width before the transform.</param>
    /// <param name="ink">The colour.</param>
    /// <param name="round">Whether open ends are round instead of straight.</param>
    public void Stroke(IReadOnlyList<PathStep> steps, Transform transform, double pen, Ink ink, bool round)
    {
        Flatten(steps, transform);
        var half = pen * Math.Sqrt(Math.Abs((transform.A * transform.D) - (transform.B * transform.C))) / 2;
        for (var i = 0; i < lines.Count; i++) Follow(lines[i], closed[i], half, round);
        raster.Fill(ink);
    }

    private void Follow(List<Spot> line, bool isClosed, double half, bool round)
    {
        for (var i = 1; i < line.Count; i++) Beam(line[i - 1], line[i], half);
        var (first, last) = round || isClosed ? (0, line.Count) : (1, line.Count - 1);
        for (var i = first; i < last; i++) Dot(line[i], half);
    }

    private void Beam(Spot a, Spot b, double half)
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = Math.Sqrt((dx * dx) + (dy * dy));
        if (length < 1e-9) return;
        var (nx, ny) = (-dy / length * half, dx / length * half);
        Around([new(a.X - nx, a.Y - ny), new(b.X - nx, b.Y - ny), new(b.X + nx, b.Y + ny), new(a.X + nx, a.Y + ny)]);
    }

    private void Dot(Spot centre, double half)
    {
        var corners = new List<Spot>(CornersOfDot);
        for (var i = 0; i < CornersOfDot; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / CornersOfDot);
            corners.Add(new(centre.X + (half * cos), centre.Y + (half * sin)));
        }

        Around(corners);
    }

    private void Around(List<Spot> corners)
    {
        for (var i = 0; i < corners.Count; i++)
        {
            var (a, b) = (corners[i], corners[(i + 1) % corners.Count]);
            raster.Edge(a.X, a.Y, b.X, b.Y);
        }
    }

    private void Flatten(IReadOnlyList<PathStep> steps, Transform transform)
    {
        lines.Clear();
        closed.Clear();
        foreach (var step in steps)
        {
            if (step.Kind == PathStepKind.Move || lines.Count == 0) Begin(transform.Of(step.Kind == PathStepKind.Move ? step.To : step.From));
            if (step.Kind is PathStepKind.Line or PathStepKind.Close) lines[^1].Add(transform.Of(step.To));
            if (step.Kind == PathStepKind.Curve) Curve(lines[^1], transform.Of(step.From), transform.Of(step.A), transform.Of(step.B), transform.Of(step.To));
            if (step.Kind != PathStepKind.Close) continue;
            closed[^1] = true;
        }
    }

    private void Begin(Spot at)
    {
        lines.Add([at]);
        closed.Add(false);
    }

    // So many chords that none is longer than about three dots.
    private static void Curve(List<Spot> line, Spot from, Spot a, Spot b, Spot to)
    {
        var length = Far(from, a) + Far(a, b) + Far(b, to);
        var pieces = Math.Clamp(2 + (int)(length / 3), 3, 64);
        for (var i = 1; i <= pieces; i++)
        {
            var t = (double)i / pieces;
            var u = 1 - t;
            var (k0, k1, k2, k3) = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t);
            line.Add(new((k0 * from.X) + (k1 * a.X) + (k2 * b.X) + (k3 * to.X), (k0 * from.Y) + (k1 * a.Y) + (k2 * b.Y) + (k3 * to.Y)));
        }
    }

    private static double Far(Spot a, Spot b) => Math.Sqrt(((b.X - a.X) * (b.X - a.X)) + ((b.Y - a.Y) * (b.Y - a.Y)));
}
