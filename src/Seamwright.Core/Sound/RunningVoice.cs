using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A performance as samples, made while they are read.</summary>
/// <remarks>Only the next two changes are worked out ahead, so the first samples are there at once however long the piece is.</remarks>
public sealed class RunningVoice
{
    private readonly Paths paths;
    private readonly Shaper shaper;
    private readonly Simulation simulation;
    private readonly VoiceKernel kernel;
    private readonly float[] block;
    private int waiting;

    internal RunningVoice(Plan plan, Performance performance, VoiceSettings settings)
    {
        paths = new Paths(plan, performance, settings.Vibrato, settings.VibratoRate);
        var rate = (double)settings.Rate.Value;
        block = new float[VoiceKernel.BlockFor(rate)];
        var step = block.Length / rate;
        shaper = new Shaper(paths, plan, settings, step);
        simulation = new Simulation(paths, plan.Instrument, step, settings);
        kernel = new VoiceKernel(settings);
        Rate = settings.Rate;
        Length = settings.Rate.ToSamples(new Seconds(paths.Duration));
        waiting = block.Length;
    }

    public SampleRate Rate { get; }

    /// <summary>Samples in all.</summary>
    public long Length { get; }

    /// <summary>Samples read so far.</summary>
    public long Position { get; private set; }

    internal Paths Paths => paths;

    internal ToneCurve? Curve { get; set; }

    /// <summary>Reads on.</summary>
    /// <param name="samples">Any length.</param>
    /// <returns>How many were there: fewer than asked for only at the end.</returns>
    public int Read(Span<float> samples)
    {
        var wanted = (int)Math.Min(samples.Length, Length - Position);
        for (var at = 0; at < wanted;)
        {
            if (waiting == block.Length) Make();
            var n = Math.Min(wanted - at, block.Length - waiting);
            block.AsSpan(waiting, n).CopyTo(samples[at..]);
            (at, waiting) = (at + n, waiting + n);
        }

        Position += wanted;
        return wanted;
    }

    private void Make()
    {
        shaper.UpTo(paths.NearestTo(simulation.Time) + 1);
        simulation.Next();
        kernel.Process(simulation.Column, simulation.Drive, simulation.Breath, block);
        Curve?.Add(simulation.Column);
        waiting = 0;
    }
}
