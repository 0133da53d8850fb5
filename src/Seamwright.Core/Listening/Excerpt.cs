namespace Seamwright.Core.Listening;

/// <summary>A stretch of a long sound, ready to be measured.</summary>
internal sealed class Excerpt
{
    private readonly float[] samples;

    /// <param name="store">The sound, at <see cref="FinePitch.Rate"/>.</param>
    /// <param name="from">Seconds; before 0 lies silence.</param>
    /// <param name="to">Seconds.</param>
    public Excerpt(SampleStore store, double from, double to)
    {
        var first = (long)Math.Floor(from * FinePitch.Rate);
        samples = new float[Math.Max(1, (long)Math.Ceiling(to * FinePitch.Rate) - first)];
        store.CopyTo(first, samples);
        Start = first / (double)FinePitch.Rate;
        Energy = new Energy(samples, FinePitch.Rate, Start);
        Fine = new FinePitch(samples, Start);
    }

    /// <summary>Time of the first sample.</summary>
    public double Start { get; }

    public Energy Energy { get; }

    public FinePitch Fine { get; }
}
