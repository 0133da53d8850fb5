using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Writes short slurred figures in prescribed settings.</summary>
internal static class SlurCells
{
    /// <summary>A figure under one slur, its last note a half, then rest to the bar line.</summary>
    /// <param name="pen">At a bar line.</param>
    /// <param name="line">At least two notes; all but the last fill whole bars.</param>
    /// <param name="each">Length of every note but the last.</param>
    /// <param name="asked">What is asked of the way from one note to the next.</param>
    public static void Slurred(this ExerciseWriting pen, IReadOnlyList<PlacedNote> line, Beats each, Func<PlacedNote, PlacedNote, ChangeIntent> asked)
    {
        Span? first = null, last = null;
        for (var i = 0; i < line.Count; i++)
        {
            var length = i == line.Count - 1 ? Beats.Quarter * 2 : each;
            last = pen.Note(line[i].Pitch, length, i == 0 ? null : asked(line[i - 1], line[i]), line[i].Prescribed);
            first ??= last;
        }

        pen.Slur(first!, last!);
        pen.FillBar();
    }

    /// <summary>The notes of a figure spelled together.</summary>
    public static IReadOnlyList<PlacedNote> Spelled(IReadOnlyList<PlacedNote> line)
    {
        var pitches = Spelling.Together([.. line.Select(n => n.Pitch)]);
        return [.. line.Select((n, i) => n with { Pitch = pitches[i] })];
    }

    /// <summary>A tube and a place on it as a heading says them: <c>3rd position</c>, <c>F ♭2</c>.</summary>
    public static string Place(SlideSetting setting) => setting.Valves.IsEmpty ? $"{Ordinals.Of(setting.Semitone + 1)} position" : $"{setting.Side.Label} valve, position {setting.Label[setting.Side.Label.Length..].Trim()}";
}
