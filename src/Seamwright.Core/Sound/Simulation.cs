using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Sound;

/// <summary>A player at the horn, one step after another: reads what is asked off the paths, and moves arm, lips, tongue and air so.</summary>
/// <remarks>The tongue does what the air column needs in order to follow the level asked for: the column's own equation, solved for
/// the drive, and held to what a tongue can do. Between partials nothing is corrected: what dips there, dips. In rests, and where the air
/// stops, there is no drive at all: the column rings out, nothing rushes, and a note that begins on breath alone grows by itself.</remarks>
internal sealed class Simulation
{
    // Dammed-up air drives a little more than twice as hard as an even blow, for a moment.
    private const double MostDrive = 2.2;

    // dB: from so far on a dip, a silence or a burst is being asked for.
    private const double Tongued = 0.3;

    // Seconds: a rotary valve turns so fast.
    private const double ValveTurn = 0.02;

    private const double NepersPerDb = 0.11512925464970229;

    private readonly Paths paths;
    private readonly Instrument instrument;
    private readonly Wander pitchWander, levelWander;
    private readonly Passage? held;
    private readonly double step;
    private readonly Rush rush;
    private Passage? passage;
    private long steps;
    private double start, before, pitchMean, levelMean;
    private (double Start, double End) steered;
    private int entered = -1;

    /// <summary>A player at rest.</summary>
    /// <param name="paths">What is asked.</param>
    /// <param name="instrument">What is played.</param>
    /// <param name="step">Seconds from moment to moment.</param>
    /// <param name="settings">How steady the player is.</param>
    public Simulation(Paths paths, Instrument instrument, double step, VoiceSettings settings)
    {
        (this.paths, this.instrument, this.step) = (paths, instrument, step);
        Column = new AirColumn(instrument);
        held = paths.Held;
        rush = Rush.Of(settings);
        pitchWander = new Wander(settings.Wander.Value / 1200, step, settings.Seed);
        levelWander = new Wander(settings.Unevenness.Value, step, settings.Seed ^ 0x9E3779B9);
    }

    /// <summary>The air after the last step.</summary>
    public AirColumn Column { get; }

    /// <summary>Air through the lips after the last step.</summary>
    public double Drive { get; private set; }

    /// <summary>Power of the note the breath would hold, against an ordinary note.</summary>
    public double Breath { get; private set; } = 1;

    /// <summary>Seconds from the first sample.</summary>
    public double Time => start + (steps * step);

    /// <summary>Seconds from moment to moment.</summary>
    public double Length => step;

    /// <summary>Begins anew within a note that has been held for long.</summary>
    /// <param name="time">Seconds.</param>
    public void StartHolding(double time)
    {
        (start, steps, entered, before) = (time, 0, -1, paths.Level.TonguedAt(time));
        Column.Reset();
        Enter(time);
        if (passage is { } p) Column.Hold(p.From.Partial, Math.Pow(10, Math.Max(-80, paths.Level.At(time)) / 10));
    }

    /// <summary>One step.</summary>
    public void Next()
    {
        var t = Time + step;
        steps++;
        Enter(t);
        if (passage is not { } p) return;
        var (bent, uneven) = Unsteady(t);
        var air = paths.Level.AirAt(t) + uneven;
        Breath = Math.Pow(10, air / 10);
        var bend = (p.FromCents + ((p.ToCents - p.FromCents) * p.ArmAt(t))) / 1200;
        var travel = p.From.Travel.Value + ((p.To.Travel.Value - p.From.Travel.Value) * p.ArmAt(t));
        var effort = new Effort(travel, Turned(p, t), Aim(p, t, travel), AirColumn.LeanFor(bend + paths.Pitch.VibratoAt(t) + bent), 1, Breath);
        Drive = paths.Level.AirflowAt(t) * DriveFor(paths.Level.TonguedAt(t) + uneven, air, effort);
        Column.Step(effort with { Drive = Drive }, step);
    }

    // A player hears the note and steers it: what wanders lies about what the note is to be, and over the whole of it cancels. So a note's own
    // pitch and level are the ones asked for, and a change goes from there to there.
    private (double Octaves, double Db) Unsteady(double t)
    {
        var note = paths.Pitch.HeldAt(t);
        if (note.End > note.Start && note != steered)
        {
            steered = note;
            (pitchMean, levelMean) = (pitchWander.Ahead(t, step, note), levelWander.Ahead(t, step, note));
        }

        var (octaves, db) = (pitchWander.Next(), levelWander.Next());
        var own = note.End > note.Start ? BendPath.OwnAt(t, note) : 0;
        return (own * (octaves - pitchMean), own * (db - levelMean));
    }

    private void Enter(double t)
    {
        var nearest = paths.NearestTo(t);
        if (nearest == entered) return;
        entered = nearest;
        passage = paths.Passages.IsEmpty ? held : paths.Passages[nearest];
        if (passage is { } p) Column.Enter(p);
    }

    private double DriveFor(double wanted, double air, in Effort effort)
    {
        var rise = (wanted - before) * NepersPerDb / step;
        before = wanted;
        if (Math.Abs(wanted - air) < Tongued) return 1;
        var sound = Math.Pow(10, wanted / 10);
        var even = Math.Clamp(((rise / AirColumn.GrowthAt(Column.Pitch)) + AirColumn.Loss + (sound / Breath)) / (1 + AirColumn.Loss), 0, MostDrive);
        var hiss = rush.At(sound, even, Breath);
        return Math.Clamp(Column.DriveTo(sound, hiss * hiss, effort with { Drive = even }, step), 0, MostDrive);
    }

    private double Aim(Passage p, double t, double travel)
    {
        var from = AirColumn.Resonance(instrument, p.From.Side, p.From.Partial, travel);
        if (p.From.Side.Id == p.To.Side.Id && p.From.Partial == p.To.Partial && p.Crack is null) return from;
        var to = AirColumn.Resonance(instrument, p.To.Side, p.To.Partial, travel);
        if (p.Crack is not { } crack) return from + ((to - from) * Lips(p, t, p.BreakTime));
        var wrong = AirColumn.Resonance(instrument, p.To.Side, crack.Partial, travel);
        return from + ((wrong - from) * Lips(p, t, p.BreakTime)) + ((to - wrong) * Lips(p, t, p.BreakEnd));
    }

    private static double Lips(Passage p, double t, double at)
    {
        var length = p.Execution.Lips.Value;
        return MinimumJerk.Progress(((t - at) / length) + 0.5);
    }

    private static double Turned(Passage p, double t) =>
        p.From.Side.Id == p.To.Side.Id ? 0 : MinimumJerk.Progress(((t - p.BreakTime) / ValveTurn) + 0.5);
}
