using BenchmarkDotNet.Attributes;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Benchmarks;

/// <summary>A book for the bass with both valves from a warm process: a scale in three passes, twelve keys in every register that fits,
/// planned, engraved and bound (40 pages with its front); under 15 s on two cores is asked. The baseline makes the exercises only.</summary>
[InProcess]
[MemoryDiagnoser]
public class BookBenchmarks
{
    private readonly Pupil bass = Pupil.Of(Catalogue.Find("bass-independent")!);
    private IEngraver engraver = null!;

    [GlobalSetup]
    public void Setup()
    {
        engraver = Engravers.ForThisSystem();
        Book();
    }

    [GlobalCleanup]
    public void Cleanup() => engraver.Dispose();

    [Benchmark(Baseline = true)]
    public int Exercises() => Made().Exercises.Length;

    [Benchmark]
    public long Book()
    {
        using var pdf = new MemoryStream();
        new BookMaker(engraver).Make([.. Made().Exercises.Select(e => new BookEntry(e))], new BookOptions { Title = "Twelve keys" }).WritePdf(pdf);
        return pdf.Length;
    }

    private ExerciseSet Made() => ExerciseMaker.Make(new ExerciseOrder { Kind = "three-passes", Keys = [.. TwelveKeys.For(Scale.Find("major")!).Select(t => new KeyName(t, null))], Register = Register.All }, bass).Value;
}
