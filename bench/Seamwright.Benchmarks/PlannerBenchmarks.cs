using BenchmarkDotNet.Attributes;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Benchmarks;

/// <summary>The planner on the bass with both valves: 10,000 notes with alternatives, and how it grows. Ratios against 1,000 notes.</summary>
[InProcess]
[MemoryDiagnoser]
public class PlannerBenchmarks
{
    private readonly Instrument bass = Catalogue.Find("bass-independent")!;
    private Line thousand = null!;
    private Line tenThousand = null!;

    [GlobalSetup]
    public void Setup()
    {
        thousand = Walk(1_000);
        tenThousand = Walk(10_000);
    }

    [Benchmark(Baseline = true)]
    public double Thousand() => Planner.Plan(thousand, bass).Value.Cost;

    [Benchmark]
    public double TenThousand() => Planner.Plan(tenThousand, bass).Value.Cost;

    // A wandering line over the whole range, all slurred, eighths at 96: every note has many settings.
    private static Line Walk(int count)
    {
        var random = new Random(7);
        var tempo = TempoMap.Steady(96);
        var notes = new PlayedNote[count];
        var midi = 50;
        for (var i = 0; i < count; i++)
        {
            midi = Math.Clamp(midi + random.Next(-5, 6), 34, 72);
            var at = new Beats(i, 2);
            notes[i] = new PlayedNote
            {
                Index = i,
                NoteIds = [$"n{i}"],
                Bar = $"{(i / 8) + 1}",
                Beat = new Beats((i % 8) + 2, 2),
                Pitch = Pitch.FromMidi(midi),
                Start = at,
                Length = new Beats(1, 2),
                StartTime = tempo.At(at),
                Duration = new Seconds(60.0 / 96 / 2),
                SlurredToNext = i % 16 != 15,
            };
        }

        return new Line { Title = "Walk", Notes = [.. notes], Tempo = tempo };
    }
}
