using System.Collections.Immutable;

namespace Seamwright.Engraving.Layout;

/// <summary>Where everything of one engraved system stands, in hundredths of a millimetre; y grows downward.</summary>
public sealed record SystemPlaces
{
    /// <summary>From 0; 0 too where a system stands by itself.</summary>
    public int Page { get; init; }

    /// <summary>All ink of the system and of what stands around it.</summary>
    public required Box Ink { get; init; }

    /// <summary>From the system's first staff line to its last, and from its left end to its right.</summary>
    public required Box Staff { get; init; }

    /// <summary>The bars, in order.</summary>
    public required ImmutableArray<BarPlace> Bars { get; init; }

    /// <summary>Note heads by note id; every note of a tie has its own.</summary>
    public required ImmutableDictionary<string, Box> Heads { get; init; }

    /// <summary>Marks of changes, by the id of the note they stand under.</summary>
    public required ImmutableDictionary<string, Box> Marks { get; init; }

    /// <summary>The same system somewhere else.</summary>
    public SystemPlaces Moved(double dx, double dy) => this with
    {
        Ink = Ink.Moved(dx, dy),
        Staff = Staff.Moved(dx, dy),
        Bars = [.. Bars.Select(b => b with { Left = b.Left + dx, Right = b.Right + dx })],
        Heads = Heads.ToImmutableDictionary(h => h.Key, h => h.Value.Moved(dx, dy)),
        Marks = Marks.ToImmutableDictionary(m => m.Key, m => m.Value.Moved(dx, dy)),
    };
}

/// <summary>A bar's share of the staff.</summary>
/// <param name="Index">Of the bar in its part; a long rest has only the first of its bars.</param>
/// <param name="Left">Where its staff lines begin.</param>
/// <param name="Right">Where they end.</param>
public readonly record struct BarPlace(int Index, double Left, double Right);
