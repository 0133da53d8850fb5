using System.Buffers.Binary;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Fonts;

/// <summary>Reads glyph outlines of a TrueType file.</summary>
/// <remarks>Table glyf of the OpenType specification 1.9: simple glyphs with their quadratic curves, and composed ones with scale and shift.</remarks>
/// <param name="data">The whole file.</param>
/// <param name="offsetOf">Where in it a glyph begins.</param>
/// <param name="unitsPerEm">From the table head.</param>
internal sealed class GlyphReader(byte[] data, Func<int, int> offsetOf, int unitsPerEm)
{
    private const int MostNesting = 5;

    /// <summary>A glyph in ems, y downward from the baseline; empty for a space.</summary>
    public List<PathStep> Read(int glyph)
    {
        var steps = new List<PathStep>();
        Add(glyph, new Transform(1.0 / unitsPerEm, 0, 0, -1.0 / unitsPerEm, 0, 0), steps, 0);
        return steps;
    }

    private void Add(int glyph, Transform place, List<PathStep> steps, int nesting)
    {
        var (at, end) = (offsetOf(glyph), offsetOf(glyph + 1));
        if (end - at < 10 || nesting > MostNesting) return;
        if (S16(at) >= 0) AddSimple(at, place, steps);
        else AddComposed(at + 10, end, place, steps, nesting);
    }

    private void AddComposed(int at, int end, Transform place, List<PathStep> steps, int nesting)
    {
        const int Wide = 0x1, Shifts = 0x2, OneScale = 0x8, More = 0x20, TwoScales = 0x40, Matrix = 0x80;
        int flags;
        do
        {
            flags = U16(at);
            var glyph = U16(at + 2);
            at += 4;
            var (dx, dy) = (flags & Wide) != 0 ? (S16(at), S16(at + 2)) : ((sbyte)data[at], (sbyte)data[at + 1]);
            if ((flags & Shifts) == 0) (dx, dy) = (0, 0);
            at += (flags & Wide) != 0 ? 4 : 2;
            var (a, b, c, d) = (1.0, 0.0, 0.0, 1.0);
            if ((flags & OneScale) != 0) (a, d, at) = (F(at), F(at), at + 2);
            else if ((flags & TwoScales) != 0) (a, d, at) = (F(at), F(at + 2), at + 4);
            else if ((flags & Matrix) != 0) (a, b, c, d, at) = (F(at), F(at + 2), F(at + 4), F(at + 6), at + 8);
            Add(glyph, place.After(new Transform(a, b, c, d, dx, dy)), steps, nesting + 1);
        }
        while ((flags & More) != 0 && at < end);
    }

    private void AddSimple(int at, Transform place, List<PathStep> steps)
    {
        var contours = S16(at);
        var ends = Enumerable.Range(0, contours).Select(i => U16(at + 10 + (2 * i))).ToArray();
        if (contours == 0) return;
        at += 10 + (2 * contours);
        at += 2 + U16(at);
        var flags = Flags(ref at, ends[^1] + 1);
        var xs = Coordinates(ref at, flags, 0x2, 0x10);
        var ys = Coordinates(ref at, flags, 0x4, 0x20);
        for (int i = 0, from = 0; i < contours; from = ends[i++] + 1)
        {
            var points = Enumerable.Range(from, ends[i] + 1 - from).Select(p => (At: place.Of(xs[p], ys[p]), On: (flags[p] & 1) != 0)).ToList();
            if (points.Count > 1) AddContour(points, steps);
        }
    }

    // Between two control points lies an implied point of the curve, half way.
    private static void AddContour(List<(Spot At, bool On)> points, List<PathStep> steps)
    {
        var first = points.FindIndex(p => p.On);
        var start = first >= 0 ? points[first].At : Half(points[0].At, points[^1].At);
        var ring = Enumerable.Range(1, points.Count).Select(i => points[(Math.Max(first, -1) + i + points.Count) % points.Count]).ToList();
        var here = start;
        Spot? control = null;
        steps.Add(new(PathStepKind.Move, here, here, here, here));
        foreach (var (at, on) in ring)
        {
            if (control is { } c) Curve(c, on ? at : Half(c, at));
            else if (on) Line(at);
            control = on ? null : at;
        }

        if (control is { } last) Curve(last, start);
        steps.Add(new(PathStepKind.Close, here, here, start, start));

        void Line(Spot to)
        {
            steps.Add(new(PathStepKind.Line, here, here, to, to));
            here = to;
        }

        void Curve(Spot by, Spot to)
        {
            steps.Add(new(PathStepKind.Curve, here, Third(here, by), Third(to, by), to));
            here = to;
        }
    }

    private static Spot Half(Spot a, Spot b) => new((a.X + b.X) / 2, (a.Y + b.Y) / 2);

    private static Spot Third(Spot end, Spot control) => new(end.X + (2 * (control.X - end.X) / 3), end.Y + (2 * (control.Y - end.Y) / 3));

    private byte[] Flags(ref int at, int count)
    {
        const int Repeated = 0x8;
        var flags = new byte[count];
        for (var i = 0; i < count; i++)
        {
            flags[i] = data[at++];
            if ((flags[i] & Repeated) == 0) continue;
            for (var more = data[at++]; more > 0 && i + 1 < count; more--, i++) flags[i + 1] = flags[i];
        }

        return flags;
    }

    private int[] Coordinates(ref int at, byte[] flags, int isShort, int isSameOrPositive)
    {
        var values = new int[flags.Length];
        var value = 0;
        for (var i = 0; i < flags.Length; i++)
        {
            var flag = (flags[i] & isSameOrPositive) != 0;
            if ((flags[i] & isShort) != 0) value += flag ? data[at++] : -data[at++];
            else if (!flag)
            {
                value += S16(at);
                at += 2;
            }

            values[i] = value;
        }

        return values;
    }

    private int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(data.AsSpan(at));

    private int S16(int at) => BinaryPrimitives.ReadInt16BigEndian(data.AsSpan(at));

    private double F(int at) => S16(at) / 16384.0;
}
