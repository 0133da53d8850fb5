namespace Seamwright.Core.Listening;

/// <summary>What a fitted curve says of its dip.</summary>
/// <param name="Depth">Most that it lies below the quieter neighbour, dB.</param>
/// <param name="Centre">Middle of the time below half of the depth about the lowest moment, seconds; where another dip runs into this one
/// there, of the time below the height between the two.</param>
/// <param name="Width">Of all that lies below half of the depth, seconds.</param>
/// <param name="Below20">Of all that lies more than 20 dB down, seconds.</param>
internal readonly record struct DipFigures(double Depth, double Centre, double Width, double Below20)
{
    private const double Fine = 0.0005;

    // dB by which a height between two dips stands out of the shallower one.
    private const double Parts = 1;

    /// <summary>Reads a curve.</summary>
    /// <param name="dips">Where it lies.</param>
    /// <param name="under">dB below the quieter neighbour at a time.</param>
    public static DipFigures Of(in Dips dips, Func<double, double> under)
    {
        var from = dips.Start;
        var curve = new double[(int)((dips.End - from) / Fine) + 2];
        for (var i = 0; i < curve.Length; i++) curve[i] = under(from + (i * Fine));
        var bottom = Array.IndexOf(curve, curve.Max());
        var deep = Math.Max(curve[bottom], under(dips.Main.Centre));
        var (start, end) = Below(curve, bottom, deep / 2);
        var (start20, end20) = deep > 20 ? Below(curve, bottom, 20) : (0, 0);
        var (first, last) = Below(curve, bottom, Math.Max(Between(curve, bottom, -1, deep / 2), Between(curve, bottom, 1, deep / 2)));
        return new(deep, from + (Fine * (first + last) / 2), Fine * (end - start), Fine * (end20 - start20));
    }

    // What lies below a level without a break about the lowest moment, in steps.
    private static (double Start, double End) Below(double[] curve, int bottom, double db)
    {
        var (first, last) = (bottom, bottom);
        while (first > 0 && curve[first - 1] >= db) first--;
        while (last < curve.Length - 1 && curve[last + 1] >= db) last++;
        return (Crossing(curve, first, -1, db), Crossing(curve, last, 1, db));
    }

    // The height from which it falls again on the way to one side, in dB down, while it stays below a level.
    private static double Between(double[] curve, int bottom, int side, double db)
    {
        var height = curve[bottom];
        for (var i = bottom; i >= 0 && i < curve.Length && curve[i] >= db; i += side)
        {
            height = Math.Min(height, curve[i]);
            if (curve[i] > height + Parts) return height;
        }

        return db;
    }

    private static double Crossing(double[] curve, int inside, int side, double db)
    {
        var outside = inside + side;
        if (outside < 0 || outside >= curve.Length || curve[outside] == curve[inside]) return inside;
        return inside + (side * Math.Clamp((curve[inside] - db) / (curve[inside] - curve[outside]), 0, 1));
    }
}
