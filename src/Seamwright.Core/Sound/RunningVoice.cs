using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>A performance as samples, made while they are read; mono.</summary>
/// <remarks>Only the next change, or two, are worked out ahead, so the first samples are there at once however long the piece is.</remarks>
public sealed class RunningVoice : SoundFeed
{
    // Seconds: further than any dip or silence reaches before its change.
    private const double Ahead = 0.5;

    private readonly Plan plan;
    private readonly Performance performance;
    private readonly VoiceSettings settings;
    private readonly float[] block;
    private Shaper shaper;
    private Simulation simulation;
    private VoiceKernel kernel;
    private int waiting;

    internal RunningVoice(Plan plan, Performance performance, VoiceSettings settings)
        : base(settings.Rate, 1)
    {
        (this.plan, this.performance, this.settings) = (plan, performance, settings);
        block = new float[VoiceKernel.BlockFor(settings.Rate.Value)];
        (Paths, shaper, simulation, kernel) = Begun();
        Length = settings.Rate.ToSamples(new Seconds(Paths.Duration));
        waiting = block.Length;
    }

    /// <summary>Samples in all.</summary>
    public long Length { get; }

    /// <summary>Samples read so far.</summary>
    public long Position { get; private set; }

    internal Paths Paths { get; private set; }

    internal ToneCurve? Curve { get; set; }

    /// <summary>Seconds from one look at the air to the next.</summary>
    internal double Step => block.Length / (double)settings.Rate.Value;

    /// <inheritdoc/>
    public override int Read(Span<float> interleaved)
    {
        var wanted = (int)Math.Min(interleaved.Length, Length - Position);
        for (var at = 0; at < wanted;)
        {
            if (waiting == block.Length) Make();
            var n = Math.Min(wanted - at, block.Length - waiting);
            block.AsSpan(waiting, n).CopyTo(interleaved[at..]);
            (at, waiting) = (at + n, waiting + n);
        }

        Position += wanted;
        return wanted;
    }

    /// <inheritdoc/>
    public override void Restart()
    {
        (Paths, shaper, simulation, kernel) = Begun();
        (Position, waiting) = (0, block.Length);
    }

    /// <summary>Works out every change up to one now, so that reading up to there is nothing but the air and its sound.</summary>
    internal void ShapeUpTo(int change) => shaper.UpTo(change);

    private (Paths Paths, Shaper Shaper, Simulation Simulation, VoiceKernel Kernel) Begun()
    {
        var paths = new Paths(plan, performance, settings.Vibrato, settings.VibratoRate);
        return (paths, new Shaper(paths, plan, settings, Step), new Simulation(paths, plan.Instrument, Step, settings), new VoiceKernel(settings));
    }

    // What comes next; and once it comes near, what comes after it, whose level may reach as far.
    private int Needed(double time)
    {
        var nearest = Paths.NearestTo(time);
        return nearest < Paths.Passages.Length && time < Paths.Passages[nearest].Start - Ahead ? nearest : nearest + 1;
    }

    private void Make()
    {
        shaper.UpTo(Needed(simulation.Time));
        simulation.Next();
        kernel.Process(simulation.Column, simulation.Drive, simulation.Breath, block);
        Curve?.Add(simulation);
        waiting = 0;
    }
}
