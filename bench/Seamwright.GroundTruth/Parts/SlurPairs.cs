using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Parts;

/// <summary>Slurs of two notes of a second each, a second's rest after each of them.</summary>
internal static class SlurPairs
{
    /// <summary>Quarters, and seconds, from one slur to the next.</summary>
    public const int Every = 3;

    /// <summary>Plans slurs drawn at random whose partial changes with no tongue.</summary>
    /// <param name="instrument">Played on.</param>
    /// <param name="lowest">MIDI number.</param>
    /// <param name="highest">MIDI number.</param>
    /// <param name="count">How many.</param>
    /// <param name="random">Seeded.</param>
    public static Plan Draw(Instrument instrument, int lowest, int highest, int count, Random random)
    {
        var pairs = new List<(int A, int B)>();
        while (pairs.Count < count)
        {
            var a = random.Next(lowest, highest + 1);
            var pair = (a, a + random.Next(-9, 10));
            if (pair.Item2 == a || pair.Item2 < lowest || pair.Item2 > highest || pairs.Contains(pair)) continue;
            if (Of(instrument, [pair]).Changes[0].Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur) pairs.Add(pair);
        }

        return Of(instrument, [.. pairs]);
    }

    private static Plan Of(Instrument instrument, ImmutableArray<(int A, int B)> pairs)
    {
        var map = TempoMap.Steady(60);
        var notes = pairs.SelectMany((p, k) => new[] { Note(map, 2 * k, p.A, Every * k, true), Note(map, (2 * k) + 1, p.B, (Every * k) + 1, false) });
        return Planner.Plan(new Line { Title = "Slurs", Notes = [.. notes], Tempo = map }, instrument, new PlanSettings()).Value;
    }

    private static PlayedNote Note(TempoMap map, int index, int midi, int beat, bool slurred) => new()
    {
        Index = index,
        NoteIds = [$"n{index}"],
        Bar = $"{(beat / 4) + 1}",
        Beat = new Beats((beat % 4) + 1, 1),
        Pitch = Pitch.FromMidi(midi),
        Start = new Beats(beat, 1),
        Length = Beats.Quarter,
        StartTime = map.At(new Beats(beat, 1)),
        Duration = map.Between(new Beats(beat, 1), new Beats(beat + 1, 1)),
        SlurredToNext = slurred,
    };
}
