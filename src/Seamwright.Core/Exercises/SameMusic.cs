namespace Seamwright.Core.Exercises;

/// <summary>Finds exercises that are the same on paper, whatever they are called.</summary>
/// <remarks>A book may order a thing in two ways, for instance with a valve named and unnamed: the pupil would play the same page twice.</remarks>
public static class SameMusic
{
    /// <summary>The first exercise of a list that another one repeats, for each that repeats one: by index, the later one first.</summary>
    /// <param name="exercises">In the order of a book.</param>
    /// <returns>Pairs of indices; the later one can be left out.</returns>
    public static IEnumerable<(int Again, int First)> In(IReadOnlyList<Exercise> exercises)
    {
        var first = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < exercises.Count; i++)
        {
            var music = KeyOf(exercises[i]);
            if (!first.TryAdd(music, i)) yield return (i, first[music]);
        }
    }

    // What sounds, what is asked, where the slide is, how fast; what the clef and the words are does not count.
    private static string KeyOf(Exercise exercise) => string.Join(
        ' ',
        exercise.Tempos.Select(t => $"{t:R}").Append(exercise.Plan.Instrument.Id)
            .Concat(exercise.Part.Bars.SelectMany(b => b.Events.Select(e => e is Scores.Note n ? $"{n.Pitch}{n.Duration}{n.Setting}{n.Asked}{n.TieToNext}" : $"r{e.Duration}").Prepend($"|{b.Section}"))));
}
