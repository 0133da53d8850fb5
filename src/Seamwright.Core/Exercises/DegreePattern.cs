using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A figure of scale degrees and how it is repeated, as written in the notation of <c>docs/degrees.md</c>.</summary>
/// <param name="Figure">At least one note.</param>
/// <param name="Up">Steps it begins on on the way up, from 1; 0 for none.</param>
/// <param name="Down">Steps it begins on on the way down, turned over where there is a way up; 0 for none.</param>
public sealed record DegreePattern(ImmutableArray<DegreeNote> Figure, int Up, int Down)
{
    /// <summary>Reads one.</summary>
    /// <returns>The pattern, or everything that is wrong with it, each with its place in the text (characters from 1).</returns>
    public static Outcome<DegreePattern> Read(string text) => DegreePatternReader.Read(text);

    /// <summary>The degrees of the figure without lengths, <c>1 2 ♭3 –</c>.</summary>
    public string ToDisplay() => string.Join(' ', Figure.Select(n => n.ToDisplay()));

    /// <summary>Its figures one after the other on a scale.</summary>
    /// <remarks>Up, the figure begins on the first step, the second and so on. Down after up, it is turned over (what rose by a step now falls
    /// by one, sharps are flats) and begins as high as makes it end where the way up began. Down alone, it is played as it is written, from the highest of
    /// its steps to the first.</remarks>
    internal IReadOnlyList<ImmutableArray<LegatoNote>> On(Scale scale, Pitch tonic)
    {
        if (Up == 0) return [.. Enumerable.Range(0, Down).Reverse().Select(s => FigureFrom(scale, tonic, s, 1, down: true))];
        var degrees = Figure.Where(n => n.Degree is not null).Select(n => Index(n, scale)).ToList();
        var bottom = degrees.Max() + degrees.Min();
        return
        [
            .. Enumerable.Range(0, Up).Select(s => FigureFrom(scale, tonic, s, 1, down: false)),
            .. Enumerable.Range(0, Down).Reverse().Select(s => FigureFrom(scale, tonic, s + bottom, -1, down: true)),
        ];
    }

    private ImmutableArray<LegatoNote> FigureFrom(Scale scale, Pitch tonic, int start, int sense, bool down) =>
        [.. Figure.Select(n => new LegatoNote(n.Degree is null ? null : Altered(scale.NoteAt(tonic, start + (sense * Index(n, scale)), down), sense * n.Alter), n.Length))];

    private static int Index(DegreeNote note, Scale scale) => note.Degree!.Value - 1 + (note.Octaves * scale.Count);

    // Beyond a double accidental another letter is taken.
    private static Pitch Altered(Pitch pitch, int by) => by == 0 ? pitch : pitch + new Interval(0, by);
}

/// <summary>A degree or a rest of a figure.</summary>
/// <param name="Degree">From 1; null for a rest. Beyond the notes of the scale it goes on in the next octave.</param>
/// <param name="Octaves">Octaves above (negative: below).</param>
/// <param name="Alter">Semitones off the scale.</param>
/// <param name="Length">More than zero.</param>
public readonly record struct DegreeNote(int? Degree, int Octaves, int Alter, Beats Length)
{
    /// <summary><c>♭3'</c>, or <c>–</c> for a rest.</summary>
    public string ToDisplay() => Degree is { } d
        ? $"{new string(Alter < 0 ? '♭' : '♯', Math.Abs(Alter))}{d}{new string(Octaves < 0 ? ',' : '\'', Math.Abs(Octaves))}"
        : "–";
}
