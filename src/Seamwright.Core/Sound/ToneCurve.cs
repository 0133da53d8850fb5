namespace Seamwright.Core.Sound;

/// <summary>Pitch and level as they became, moment by moment.</summary>
/// <remarks>Index 0 lies at <see cref="Start"/>. Pitch is the base-2 logarithm of Hz, of several resonances that sound together the mean
/// weighted by power; level is in dB against an ordinary note, tone and rush of air together, as a microphone has them.</remarks>
/// <param name="start">Seconds of the first moment.</param>
/// <param name="step">Seconds from moment to moment.</param>
/// <param name="rush">Of the air.</param>
internal sealed class ToneCurve(double start, double step, Rush rush)
{
    // dB: under this nothing is left that a listener would call tone.
    private const double Silence = -60;

    private readonly List<double> pitches = [], strongest = [], levels = [];
    private readonly List<(double Pitch, double Power)> tones = [];
    private readonly List<int> firsts = [0];

    public double Start { get; private set; } = start;

    public double Step { get; } = step;

    public double End => Start + ((pitches.Count - 1) * Step);

    /// <summary>Forgets every moment; the next one is the first.</summary>
    /// <param name="first">Its time, seconds.</param>
    public void Begin(double first)
    {
        Start = first;
        pitches.Clear();
        strongest.Clear();
        levels.Clear();
        tones.Clear();
        firsts.Clear();
        firsts.Add(0);
    }

    /// <summary>Another moment.</summary>
    public void Add(Simulation player)
    {
        var column = player.Column;
        double power = 0, weighted = 0;
        foreach (ref readonly var mode in column.Modes)
        {
            power += mode.Tone;
            weighted += mode.Tone * mode.Pitch;
            if (mode.Tone > 0) tones.Add((mode.Pitch, mode.Tone));
        }

        firsts.Add(tones.Count);

        pitches.Add(power > 1e-9 ? weighted / power : pitches.Count > 0 ? pitches[^1] : column.Pitch);
        strongest.Add(power > 1e-9 ? column.Pitch : strongest.Count > 0 ? strongest[^1] : column.Pitch);
        var hiss = rush.At(column.Power, player.Drive, player.Breath);
        levels.Add(Math.Max(Silence, 10 * Math.Log10(power + (hiss * hiss) + 1e-12)));
    }

    /// <summary>Base-2 logarithm of Hz at a time within the curve.</summary>
    public double PitchAt(double t) => At(pitches, t);

    /// <summary>Pitch of the strongest resonance alone, which jumps when another sounds as strong, base-2 logarithm of Hz.</summary>
    public double StrongestAt(double t) => At(strongest, t);

    /// <summary>Power at the moment next to a time, of all resonances together and of those that lie beyond a pitch, as seen from another.</summary>
    /// <param name="t">Seconds, within the curve.</param>
    /// <param name="from">On this side they count as not beyond, base-2 logarithm of Hz.</param>
    /// <param name="limit">Beyond this, base-2 logarithm of Hz.</param>
    public (double All, double Beyond) PowerAt(double t, double from, double limit)
    {
        var i = (int)Math.Clamp(Math.Round((t - Start) / Step), 0, pitches.Count - 1);
        var (all, beyond) = (0.0, 0.0);
        for (var k = firsts[i]; k < firsts[i + 1]; k++)
        {
            all += tones[k].Power;
            if ((tones[k].Pitch - limit) * (limit - from) >= 0) beyond += tones[k].Power;
        }

        return (all, beyond);
    }

    /// <summary>The mean pitch of a held note, weighted by how far it is on its own; where it is all passage, the pitch in its middle.</summary>
    public double PitchOf((double Start, double End) held)
    {
        var (sum, weights) = (0.0, 0.0);
        for (var t = held.Start; t < held.End; t += Step)
        {
            var weight = BendPath.OwnAt(t, held);
            (sum, weights) = (sum + (weight * PitchAt(t)), weights + weight);
        }

        return weights > 0 ? sum / weights : PitchAt((held.Start + held.End) / 2);
    }

    /// <summary>dB at a time within the curve.</summary>
    public double LevelAt(double t) => At(levels, t);

    /// <summary>Mean of the power between two times within the curve, against an ordinary note.</summary>
    public double MeanPower(double from, double to)
    {
        var (sum, n) = (0.0, 0);
        for (var t = from; t <= to; t += Step, n++) sum += Math.Pow(10, LevelAt(t) / 10);
        return sum / n;
    }

    private double At(List<double> values, double t)
    {
        var x = Math.Clamp((t - Start) / Step, 0, values.Count - 1);
        var i = Math.Min((int)x, values.Count - 2);
        return i < 0 ? values[0] : values[i] + ((x - i) * (values[i + 1] - values[i]));
    }
}
