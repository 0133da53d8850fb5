namespace Seamwright.Engraving.Layout;

/// <summary>A rectangle of ink, in hundredths of a millimetre; y grows downward.</summary>
public readonly record struct Box(double Left, double Top, double Right, double Bottom)
{
    public double CentreX => (Left + Right) / 2;

    public Box Grown(double by) => new(Left - by, Top - by, Right + by, Bottom + by);

    public Box Moved(double dx, double dy) => new(Left + dx, Top + dy, Right + dx, Bottom + dy);

    public bool Overlaps(Box other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    /// <summary>The smallest box around several; null around none.</summary>
    public static Box? Around(IReadOnlyCollection<Box> boxes) => boxes.Count == 0
        ? null
        : new(boxes.Min(b => b.Left), boxes.Min(b => b.Top), boxes.Max(b => b.Right), boxes.Max(b => b.Bottom));
}
