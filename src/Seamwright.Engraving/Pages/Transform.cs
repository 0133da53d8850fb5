using System.Globalization;
using System.Text.RegularExpressions;

namespace Seamwright.Engraving.Pages;

/// <summary>An affine map: x' = a·x + c·y + e, y' = b·x + d·y + f.</summary>
internal readonly partial record struct Transform(double A, double B, double C, double D, double E, double F)
{
    public static readonly Transform None = new(1, 0, 0, 1, 0, 0);

    public Spot Of(double x, double y) => new((A * x) + (C * y) + E, (B * x) + (D * y) + F);

    public Spot Of(Spot p) => Of(p.X, p.Y);

    /// <summary>First the inner map, then this one.</summary>
    public Transform After(Transform inner)
    {
        var origin = Of(inner.E, inner.F);
        return new(
            (A * inner.A) + (C * inner.B),
            (B * inner.A) + (D * inner.B),
            (A * inner.C) + (C * inner.D),
            (B * inner.C) + (D * inner.D),
            origin.X,
            origin.Y);
    }

    /// <summary>Reads an SVG transform list of translations, scalings and rotations about the origin.</summary>
    public static Transform Read(string? text)
    {
        var result = None;
        foreach (Match step in Step().Matches(text ?? "")) result = result.After(One(step.Groups[1].Value, Numbers(step.Groups[2].Value)));
        return result;
    }

    private static double[] Numbers(string text) =>
        [.. text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(n => double.Parse(n, CultureInfo.InvariantCulture))];

    private static Transform One(string name, double[] v) => name switch
    {
        "translate" => new(1, 0, 0, 1, v[0], v.Length > 1 ? v[1] : 0),
        "scale" => new(v[0], 0, 0, v.Length > 1 ? v[1] : v[0], 0, 0),
        "rotate" when v.Length == 1 => Rotation(v[0] * Math.PI / 180),
        _ => throw new NotSupportedException($"Transform '{name}' with {v.Length} numbers."),
    };

    private static Transform Rotation(double angle)
    {
        var (sin, cos) = Math.SinCos(angle);
        return new(cos, sin, -sin, cos, 0, 0);
    }

    [GeneratedRegex(@"(\w+)\s*\(([^)]*)\)")]
    private static partial Regex Step();
}
