using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>A short wooden click at every beat, louder and higher the stronger the beat is.</summary>
/// <remarks>Two dying sines at 1 : 2.76, the first two modes of a free bar (Fletcher and Rossing, The Physics of Musical Instruments, 2nd ed.,
/// 1998, section 2.13), from their zero crossing, so that a click begins on its very sample and without a step.</remarks>
internal sealed class ClickFeed : ScheduledFeed
{
    private const double SecondMode = 2.76, SecondShare = 0.4;

    // 60 dB in 69 ms: over before the next click of any tempo.
    private static readonly Seconds Decay = new(0.010);
    private static readonly Seconds Lasting = new(0.08);

    private readonly long[] times;
    private readonly float[][] shapes;
    private readonly BeatStrength[] strengths;
    private int first;

    public ClickFeed(Schedule schedule)
        : base(schedule)
    {
        var heard = schedule.Beats.Where(b => schedule.Settings.Click == ClickUse.Throughout || schedule.Sections[b.Section].Kind == SectionKind.CountIn).ToList();
        times = [.. heard.Select(b => b.At)];
        strengths = [.. heard.Select(b => b.Strength)];
        shapes = [.. Enum.GetValues<BeatStrength>().Select(Shape)];
    }

    /// <summary>How much softer than a downbeat a click is.</summary>
    public static Decibels Below(BeatStrength strength) => new(strength switch
    {
        BeatStrength.Downbeat => 0,
        BeatStrength.Group => 3,
        BeatStrength.Beat => 6,
        _ => 13,
    });

    protected override void Add(long at, Span<float> block)
    {
        var end = at + block.Length;
        while (first < times.Length && times[first] + shapes[(int)strengths[first]].Length <= at) first++;
        for (var i = first; i < times.Length && times[i] < end; i++)
        {
            var shape = shapes[(int)strengths[i]];
            var from = (int)Math.Max(0, at - times[i]);
            var to = (int)Math.Min(shape.Length, end - times[i]);
            for (var k = from; k < to; k++) block[(int)(times[i] + k - at)] += shape[k];
        }
    }

    protected override void Begin() => first = 0;

    private float[] Shape(BeatStrength strength)
    {
        var pitch = strength switch { BeatStrength.Downbeat => 1568.0, BeatStrength.Group => 1318.5, _ => 1046.5 };
        var rate = (double)Schedule.Rate.Value;
        var shape = new float[Schedule.Rate.ToSamples(Lasting)];
        var peak = 0.0;
        for (var i = 0; i < shape.Length; i++)
        {
            var t = i / rate;
            var x = (Math.Sin(2 * Math.PI * pitch * t) * Math.Exp(-t / Decay.Value))
                + (SecondMode * pitch < rate / 2 ? SecondShare * Math.Sin(2 * Math.PI * SecondMode * pitch * t) * Math.Exp(-2 * t / Decay.Value) : 0);
            shape[i] = (float)x;
            peak = Math.Max(peak, Math.Abs(x));
        }

        var gain = (float)(Math.Pow(10, (Schedule.Settings.ClickLevel - Below(strength)).Value / 20) / peak);
        for (var i = 0; i < shape.Length; i++) shape[i] *= gain;
        return shape;
    }
}
