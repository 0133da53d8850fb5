using Seamwright.Core.Planning;

namespace Seamwright.GroundTruth.Making;

/// <summary>What is done at one change, whatever makes the sound. Seconds and dB.</summary>
internal sealed record ChangePlay
{
    /// <summary>10–90 % of the pitch's way where it slides; null where it jumps.</summary>
    public double? Glide { get; init; }

    /// <summary>The whole length of a jump between partials, raised cosine: 1 to 33 ms.</summary>
    public double Jump { get; init; } = 0.008;

    /// <summary>Share of the arm's way at which the partial breaks.</summary>
    public double BreakAt { get; init; } = 0.5;

    /// <summary>Whether the slide's own shape is used (minimum jerk in travel) or a raised cosine in cents.</summary>
    public bool ByArm { get; init; }

    /// <summary>Middle of the pitch's way against the written time.</summary>
    public double Lead { get; init; }

    public double Dip { get; init; }

    public double DipWidth { get; init; } = 0.04;

    /// <summary>Middle of the dip against the middle of the way.</summary>
    public double DipOffset { get; init; }

    public double Gap { get; init; }

    public double Bump { get; init; }

    /// <summary>Length of a wrong partial caught on the way; 0 for none.</summary>
    public double Crack { get; init; }
}

/// <summary>Draws what a player might do at a change, good and bad.</summary>
internal static class ChangePlays
{
    // A minimum-jerk movement spends 0.507 of its time between 10 and 90 % of its way.
    private const double MinimumJerkShare = 0.507;

    /// <summary>One change.</summary>
    /// <param name="change">Of the plan.</param>
    /// <param name="before">Seconds the note before lasts.</param>
    /// <param name="after">Seconds the note after lasts.</param>
    /// <param name="random">Seeded.</param>
    public static ChangePlay Draw(NoteChange change, double before, double after, Random random)
    {
        var room = Math.Min(before, after);
        var slides = change.Kind is ChangeKind.SoftTongue or ChangeKind.Glissando || (change.SlideMotion != SlideMotion.Still && random.NextDouble() < 0.3);
        double? glide = slides ? LogUniform(random, 0.010, Math.Min(0.320, 0.62 * MinimumJerkShare * room)) : null;
        var play = new ChangePlay
        {
            Glide = glide,
            Jump = LogUniform(random, 0.001, 0.033),
            BreakAt = 0.25 + (0.5 * random.NextDouble()),
            ByArm = random.NextDouble() < 0.5,
            Lead = Math.Clamp(Normal(random, 0.02), -0.05, 0.05) - (0.4 * (glide ?? 0)),
        };
        return WithLevel(change, play, room, random);
    }

    private static ChangePlay WithLevel(NoteChange change, ChangePlay play, double room, Random random)
    {
        var bump = random.NextDouble() < 0.15 ? 1 + (7 * random.NextDouble()) : 0;
        var width = Math.Min(0.015 + (0.075 * random.NextDouble()), room / 6);
        var tongued = change.Kind == ChangeKind.Tongued;
        if (random.NextDouble() < (tongued ? 0.4 : 0.1)) return play with { Gap = Math.Min(LogUniform(random, 0.012, 0.15), room / 5), DipOffset = Normal(random, 0.01), Bump = bump };
        if (!tongued && random.NextDouble() < 0.2) return play with { Bump = bump };
        var depth = tongued ? 10 + (15 * random.NextDouble()) : 1 + (24 * Math.Pow(random.NextDouble(), 1.4));
        return play with { Dip = depth, DipWidth = width, DipOffset = Offset(change, room, random), Bump = bump };
    }

    // Mostly together; now and then plainly early or late, where there is an arm to compare with.
    private static double Offset(NoteChange change, double room, Random random)
    {
        if (change.Kind != ChangeKind.SoftTongue || random.NextDouble() < 0.7) return Math.Clamp(Normal(random, 0.015), -0.04, 0.04);
        var off = Math.Min(0.06 + (0.06 * random.NextDouble()), room / 4);
        return random.NextDouble() < 0.5 ? -off : off;
    }

    private static double LogUniform(Random random, double low, double high) =>
        high <= low ? low : low * Math.Pow(high / low, random.NextDouble());

    /// <summary>Box and Muller, Ann. Math. Stat. 29 (1958).</summary>
    public static double Normal(Random random, double deviation) =>
        deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
