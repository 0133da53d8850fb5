using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A chord as its symbol names it, at concert pitch.</summary>
/// <remarks>Equality is by value, the added and altered degrees included.</remarks>
/// <param name="Root">The note it is built on.</param>
/// <param name="Kind">What is built on it.</param>
public sealed record Chord(PitchName Root, ChordKind Kind)
{
    /// <summary>The lowest note where that is not the root (<c>C/E</c>).</summary>
    public PitchName? Bass { get; init; }

    /// <summary>Degrees beside what the kind says (<c>♭9</c>), in the order they are written.</summary>
    public ImmutableArray<ChordDegree> Degrees { get; init; } = [];

    /// <summary>The tones as intervals up from the root, from the lowest; at least the root.</summary>
    public ImmutableArray<Interval> Tones
    {
        get
        {
            var tones = ChordKinds.TonesOf(Kind).ToList();
            foreach (var degree in Degrees)
            {
                if (degree.Change != DegreeChange.Add) tones.RemoveAll(t => t.Steps == degree.Number - 1);
                if (degree.Change != DegreeChange.Remove) tones.Add(degree.Tone);
            }

            return tones.Count == 0 ? [Interval.Unison] : [.. tones.Distinct().OrderBy(t => t.Semitones)];
        }
    }

    /// <summary>The same chord in another key.</summary>
    public Chord Transposed(Interval by) => this with { Root = Root + by, Bass = Bass is { } bass ? bass + by : null };

    public bool Equals(Chord? other) =>
        other is not null && Root == other.Root && Kind == other.Kind && Bass == other.Bass && Degrees.SequenceEqual(other.Degrees);

    public override int GetHashCode() => HashCode.Combine(Root, Kind, Bass, Degrees.Length);

    /// <summary><c>Bb7(b9)/D</c>.</summary>
    public override string ToString()
    {
        var degrees = Degrees.IsEmpty ? "" : $"({string.Join(' ', Degrees)})";
        return $"{Root}{ChordKinds.SuffixOf(Kind)}{degrees}{(Bass is { } bass ? $"/{bass}" : "")}";
    }
}

/// <summary>One degree added to a chord, altered in it, or taken out.</summary>
/// <param name="Number">1 for the root, 3, 5, … up to 13.</param>
/// <param name="Alter">Semitones against the degree as the dominant chord has it, −2 to 2: the seventh is the minor one.</param>
/// <param name="Change">What is done.</param>
public readonly record struct ChordDegree(int Number, int Alter, DegreeChange Change)
{
    /// <summary>The interval up from the root.</summary>
    public Interval Tone
    {
        get
        {
            ReadOnlySpan<int> semitones = [0, 2, 4, 5, 7, 9, 10];
            var steps = Number - 1;
            return new Interval(steps, (steps / 7 * 12) + semitones[steps % 7] + Alter);
        }
    }

    public override string ToString() =>
        $"{(Change switch { DegreeChange.Add => "add", DegreeChange.Remove => "no", _ => "" })}{new string(Alter < 0 ? 'b' : '#', Math.Abs(Alter))}{Number}";
}

public enum DegreeChange
{
    Add, Alter, Remove,
}

/// <summary>A chord symbol on the sheet.</summary>
/// <param name="Offset">From the start of the bar.</param>
/// <param name="Chord">Null for "no chord": the accompaniment is silent.</param>
public sealed record ChordMark(Beats Offset, Chord? Chord);

/// <summary>A chord from a place of the played line on.</summary>
/// <param name="Start">Played place.</param>
/// <param name="Chord">Null for "no chord".</param>
public sealed record PlayedChord(Beats Start, Chord? Chord);
