namespace Seamwright.Core.Listening;

/// <summary>A stretch of a long sound, ready to be measured. One is used again for stretch after stretch: what it gave before is then void.</summary>
/// <param name="store">The sound, at <see cref="FinePitch.Rate"/>.</param>
internal sealed class Excerpt(SampleStore store)
{
    private float[] samples = [];
    private double[] running = [];
    private readonly FinePitch.Lags lags = new();
    private int loaded;
    private double begins;

    public Energy Energy { get; private set; } = null!;

    public FinePitch Fine { get; private set; } = null!;

    /// <summary>Hands the sound on to a fit of the pitch's way.</summary>
    /// <param name="fit">Moves to it.</param>
    /// <param name="period">The longest, seconds.</param>
    /// <param name="noise">Mean square of the room's noise.</param>
    public void LoadInto(WarpFit fit, double period, double noise) => fit.Load(samples.AsSpan(0, loaded), running.AsSpan(0, loaded + 1), begins, period, noise);

    /// <summary>Moves to another stretch.</summary>
    /// <param name="from">Seconds; before 0 lies silence.</param>
    /// <param name="to">Seconds.</param>
    public Excerpt Load(double from, double to)
    {
        var first = (long)Math.Floor(from * FinePitch.Rate);
        var count = (int)Math.Max(1, (long)Math.Ceiling(to * FinePitch.Rate) - first);
        if (samples.Length < count) (samples, running) = (new float[count * 3 / 2], new double[(count * 3 / 2) + 1]);
        store.CopyTo(first, samples.AsSpan(0, count));
        Energy.Sum(samples.AsSpan(0, count), running);
        var start = first / (double)FinePitch.Rate;
        (loaded, begins) = (count, start);
        Energy = new Energy(running, count, FinePitch.Rate, start);
        Fine = new FinePitch(samples, count, running, start, lags);
        return this;
    }
}
