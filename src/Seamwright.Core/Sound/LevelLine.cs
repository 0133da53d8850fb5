using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A level at a time after a note's beginning.</summary>
/// <param name="After">Seconds of the plan's own time.</param>
/// <param name="Level">Against an ordinary note.</param>
public readonly record struct LevelPoint(Seconds After, Decibels Level);

/// <summary>How loud one note is while it sounds: straight lines in dB from point to point, level before the first and after the last.</summary>
/// <remarks>Two lines are equal where they were made from the same array of points.</remarks>
public sealed record LevelLine
{
    /// <summary>A line through points.</summary>
    /// <param name="points">At least one, times ascending; of two at one time the later holds from there on.</param>
    /// <exception cref="ArgumentException">There are none, they do not ascend, or one is no number.</exception>
    public LevelLine(ImmutableArray<LevelPoint> points)
    {
        if (points.IsDefaultOrEmpty) throw new ArgumentException("A level line needs at least one point.", nameof(points));
        for (var i = 0; i < points.Length; i++)
        {
            if (!double.IsFinite(points[i].After.Value) || !double.IsFinite(points[i].Level.Value) || (i > 0 && points[i].After < points[i - 1].After))
                throw new ArgumentException($"Point {i} of a level line, {points[i]}, is no number or lies before the one before it.", nameof(points));
        }

        Points = points;
    }

    /// <summary>The same level all the time.</summary>
    public static LevelLine Steady(Decibels level) => new([new(Seconds.Zero, level)]);

    /// <summary>Where the line bends, times ascending.</summary>
    public ImmutableArray<LevelPoint> Points { get; }

    /// <summary>The level so long after the note's beginning.</summary>
    public Decibels At(Seconds after)
    {
        var i = Points.Length - 1;
        while (i >= 0 && Points[i].After > after) i--;
        if (i < 0) return Points[0].Level;
        if (i == Points.Length - 1) return Points[i].Level;
        var (a, b) = (Points[i], Points[i + 1]);
        var share = (after - a.After).Value / (b.After - a.After).Value;
        return new(a.Level.Value + (share * (b.Level.Value - a.Level.Value)));
    }
}
