namespace Seamwright.Engraving.Layout;

/// <summary>How far the ink of a system reaches up and down, anywhere along it.</summary>
internal sealed class Skyline
{
    private readonly List<Box> boxes = [];

    public IReadOnlyCollection<Box> Boxes => boxes;

    public void Add(IEnumerable<Box> ink) => boxes.AddRange(ink);

    public void Add(Box box) => boxes.Add(box);

    /// <summary>The highest ink between two places; null over white paper.</summary>
    public double? Top(double left, double right) => boxes.Where(b => b.Left < right && left < b.Right).Select(b => (double?)b.Top).Min();

    /// <summary>The lowest ink between two places; null over white paper.</summary>
    public double? Bottom(double left, double right) => boxes.Where(b => b.Left < right && left < b.Right).Select(b => (double?)b.Bottom).Max();
}
