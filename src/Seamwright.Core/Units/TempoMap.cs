using System.Collections.Immutable;

namespace Seamwright.Core.Units;

/// <summary>From written time to seconds and back: piecewise constant tempo with holds.</summary>
/// <remarks>Places are counted from the start of what is played, repeats unfolded. A hold (fermata) adds time at the end of
/// the span it names without moving any written place.</remarks>
public sealed class TempoMap
{
    private readonly double[] starts;
    private readonly double[] seconds;
    private readonly double[] rates;
    private readonly double[] holdPlaces;
    private readonly double[] heldUpTo;

    /// <summary>Builds the map.</summary>
    /// <param name="marks">Tempo changes in ascending order of place; the first one also rules all that comes before it.</param>
    /// <param name="holds">Extra seconds inserted just before a place, for fermatas.</param>
    /// <exception cref="ArgumentException">No marks, not ascending, or a tempo outside 1–1000 quarter notes a minute.</exception>
    public TempoMap(IReadOnlyList<TempoMark> marks, IReadOnlyList<Hold>? holds = null)
    {
        if (marks.Count == 0) throw new ArgumentException("A tempo map needs at least one tempo.", nameof(marks));
        if (marks.Any(m => !(m.QuartersPerMinute is >= 1 and <= 1000)))
            throw new ArgumentException("A tempo lies between 1 and 1000 quarter notes a minute.", nameof(marks));
        if (marks.Zip(marks.Skip(1)).Any(p => p.First.At > p.Second.At))
            throw new ArgumentException("Tempo marks must be in ascending order.", nameof(marks));
        Marks = [.. marks];
        Holds = [.. (holds ?? []).OrderBy(h => h.Before)];
        holdPlaces = [.. Holds.Select(h => h.Before.ToDouble())];
        heldUpTo = new double[Holds.Length];
        for (var i = 0; i < heldUpTo.Length; i++) heldUpTo[i] = Holds[i].Extra.Value + (i > 0 ? heldUpTo[i - 1] : 0);
        starts = [.. marks.Select(m => m.At.ToDouble())];
        rates = [.. marks.Select(m => 60 / m.QuartersPerMinute)];
        seconds = new double[starts.Length];
        for (var i = 1; i < starts.Length; i++)
            seconds[i] = seconds[i - 1] + ((starts[i] - starts[i - 1]) * rates[i - 1]);
    }

    public ImmutableArray<TempoMark> Marks { get; }

    public ImmutableArray<Hold> Holds { get; }

    /// <summary>One tempo throughout.</summary>
    /// <param name="quartersPerMinute">1 to 1000.</param>
    public static TempoMap Steady(double quartersPerMinute) => new([new TempoMark(Beats.Zero, quartersPerMinute)]);

    /// <summary>The time of a place: 0 at place 0 (a hold at place 0 cannot sound). A hold just before the place counts.</summary>
    public Seconds At(Beats place)
    {
        var x = place.ToDouble();
        return new(Raw(x) - Raw(0) + Held(x));
    }

    /// <summary>How long the span from one place to another lasts, holds in it included.</summary>
    public Seconds Between(Beats from, Beats to) => At(to) - At(from);

    /// <summary>The same map with every tempo multiplied.</summary>
    /// <param name="factor">Greater than 0; 2 is twice as fast.</param>
    public TempoMap Scaled(double factor) =>
        new([.. Marks.Select(m => m with { QuartersPerMinute = m.QuartersPerMinute * factor })],
            [.. Holds.Select(h => h with { Extra = (1 / factor) * h.Extra })]);

    private double Raw(double x)
    {
        var i = Array.BinarySearch(starts, x);
        if (i < 0) i = Math.Max(0, ~i - 1);
        return seconds[i] + ((x - starts[i]) * rates[i]);
    }

    private double Held(double x)
    {
        var i = Array.BinarySearch(holdPlaces, x);
        if (i < 0) i = ~i - 1;
        while (i + 1 < holdPlaces.Length && holdPlaces[i + 1] <= x) i++;
        return i < 0 ? 0 : heldUpTo[i];
    }
}

/// <summary>A tempo from a place on.</summary>
/// <param name="At">Quarter notes from the start.</param>
/// <param name="QuartersPerMinute">1 to 1000.</param>
public readonly record struct TempoMark(Beats At, double QuartersPerMinute);

/// <summary>A fermata's extra time.</summary>
/// <param name="Before">The place where the held note ends.</param>
/// <param name="Extra">Seconds added before that place.</param>
public readonly record struct Hold(Beats Before, Seconds Extra);
