using System.Collections.Immutable;
using System.Globalization;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A short tune in a major key, told in scale degrees so that it can stand anywhere. All of them are invented, ours.</summary>
/// <param name="Name">For titles.</param>
/// <param name="Slug">For ids.</param>
/// <param name="Phrases">Notes of each phrase: steps of the scale above the tonic (0 is the tonic, −1 the note below) and lengths.
/// A phrase stands under one slur and ends with a breath; together its notes fill whole bars of 4/4.</param>
internal sealed record Melody(string Name, string Slug, ImmutableArray<ImmutableArray<(int Step, Beats Length)>> Phrases)
{
    private static readonly Interval[] Major = [new(0, 0), new(1, 2), new(2, 4), new(3, 5), new(4, 7), new(5, 9), new(6, 11)];

    /// <summary>Whole tunes, from a small compass to a wide one.</summary>
    public static ImmutableArray<Melody> Tunes { get; } =
    [
        Of("Six steps", "six-steps", "5/1 3/1 1/2 2/1 4/1 3/2", "5/1 6/1 4/1 2/1 1/4"),
        Of("Over the stile", "over-the-stile", "1/1 3/1 5/1 8/1 6/2 4/2", "5/1 3/1 4/1 2/1 3/4", "3/1 5/1 8/1 5/1 6/1 4/1 2/2", "5/1 4/1 2/1 3/1 1/4"),
        Of("The far bank", "the-far-bank", "1/1.5 2/0.5 3/1 5/1 8/2 10/2", "9/1 7/1 5/1.5 4/0.5 6/4", "8/1.5 6/0.5 4/1 6/1 5/1 3/1 1/2", "2/1 4/1 7/1 9/1 8/4"),
    ];

    /// <summary>Single phrases of two bars, for settings to be tried on.</summary>
    public static ImmutableArray<Melody> Figures { get; } =
    [
        Of("Thirds", "thirds", "1/1 3/1 2/1 4/1 3/4"),
        Of("A turn above", "turn-above", "5/1 6/1 5/1 4/1 5/4"),
        Of("Down in thirds", "down-in-thirds", "5/1 3/1 4/1 2/1 1/4"),
        Of("Over the fourth", "over-the-fourth", "1/1 4/1 3/1 5/1 4/4"),
        Of("Five up", "five-up", "1/1 2/1 3/1 4/1 5/4"),
        Of("The sixth", "the-sixth", "3/1 8/1 6/1 4/1 5/4"),
    ];

    /// <summary>All its notes from a tonic on.</summary>
    public IEnumerable<Pitch> From(Pitch tonic) => Phrases.SelectMany(p => p).Select(n => At(tonic, n.Step));

    /// <summary>As music, nothing prescribed.</summary>
    public Part Write(Pitch tonic, KeySignature key)
    {
        var pen = new ExerciseWriting(key, Meter.CommonTime);
        foreach (var phrase in Phrases)
        {
            var spans = phrase.Select((n, i) => pen.Note(At(tonic, n.Step), n.Length, breath: i == phrase.Length - 1)).ToList();
            pen.Slur(spans[0], spans[^1]);
        }

        return pen.Finish();
    }

    private static Pitch At(Pitch tonic, int step)
    {
        var octave = (int)Math.Floor(step / 7.0);
        return tonic + Major[step - (7 * octave)] + (Interval.Octave * octave);
    }

    // "5/1 3/0.5": degree from 1 and quarters.
    private static Melody Of(string name, string slug, params string[] phrases) => new(name, slug, [.. phrases.Select(p => p.Split(' ').Select(Read).ToImmutableArray())]);

    private static (int Step, Beats Length) Read(string text)
    {
        var parts = text.Split('/');
        var halves = (int)(2 * double.Parse(parts[1], CultureInfo.InvariantCulture));
        return (int.Parse(parts[0], CultureInfo.InvariantCulture) - 1, new Beats(halves, 2));
    }
}
