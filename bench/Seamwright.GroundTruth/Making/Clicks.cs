namespace Seamwright.GroundTruth.Making;

/// <summary>Clicks in the room while the player plays: a metronome's ticks, or taps such as keys, a mouse or a foot on a stand make.</summary>
internal static class Clicks
{
    // What hearing takes together (13 ms at 300 Hz, Plack and Moore, JASA 1990).
    private const double Heard = 0.013;

    // A block of wood rings for about 10 ms; a tap is over in 3.
    private const double TickHz = 1800, TickDecay = 0.008, TapDecay = 0.0012, Longest = 0.06;

    // A player keeps to the metronome as well as this; taps come so often by themselves.
    private const double Beside = 0.04, TapsASecond = 3;

    /// <summary>Clicks through a whole take; null for any other kind of sound.</summary>
    /// <param name="kind">ticks: one about every note's beginning; taps: bursts of noise at any time.</param>
    /// <param name="take">Beside which they sound.</param>
    /// <param name="dbBelow">Of the loudest 13 ms of each, below the player's notes; negative above them.</param>
    /// <param name="random">Seeded.</param>
    public static (float[] Samples, string Words)? Of(string kind, MadeTake take, double dbBelow, Random random)
    {
        if (kind is not ("ticks" or "taps")) return null;
        var shape = kind == "ticks" ? Tick(take.Rate) : [];
        var sound = new float[take.Samples.Length];
        foreach (var time in kind == "ticks" ? Beats(take, random) : Anywhere(take, random))
        {
            var click = kind == "ticks" ? shape : Tap(take.Rate, random);
            var gain = Math.Sqrt(Variant.SoundingPower(take) * Math.Pow(10, -dbBelow / 10) * Heard * take.Rate / click.Sum(x => x * x));
            var at = (int)(time * take.Rate);
            for (var i = Math.Max(0, -at); i < click.Length && at + i < sound.Length; i++) sound[at + i] += (float)(gain * click[i]);
        }

        return (sound, $"{(kind == "ticks" ? "ticks about every note's beginning" : "taps at any time")}, {dbBelow} dB below in 13 ms");
    }

    private static double[] Tick(int rate) => [.. Enumerable.Range(0, (int)(Longest * rate)).Select(i => Math.Exp(-i / (TickDecay * rate)) * Math.Sin(2 * Math.PI * TickHz * i / rate))];

    private static double[] Tap(int rate, Random random) => [.. Enumerable.Range(0, (int)(Longest * rate / 4)).Select(i => Math.Exp(-i / (TapDecay * rate)) * ChangePlays.Normal(random, 1))];

    private static IEnumerable<double> Beats(MadeTake take, Random random) => take.Truth.Notes.Select(n => n.Onset + (Beside * ((2 * random.NextDouble()) - 1)));

    private static IEnumerable<double> Anywhere(MadeTake take, Random random)
    {
        for (var t = 0.0; t < take.Truth.DurationSeconds; t -= Math.Log(1 - random.NextDouble()) / TapsASecond) yield return t;
    }
}
