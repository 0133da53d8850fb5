namespace Seamwright.Core.Listening;

/// <summary>Raised-cosine flanks in dB about a flat bottom.</summary>
/// <param name="Centre">Middle of the bottom, seconds.</param>
/// <param name="Fall">Length of the falling flank, seconds.</param>
/// <param name="Rise">Length of the rising flank, seconds.</param>
/// <param name="Hold">Length of the bottom, seconds.</param>
/// <param name="Depth">dB, positive.</param>
internal readonly record struct DipShape(double Centre, double Fall, double Rise, double Hold, double Depth)
{
    /// <summary>Whether it comes to a point, as where the air itself stops: the tone rings out by its own loss and grows again by itself, both by so
    /// many dB a second.</summary>
    public bool Pointed { get; init; }

    /// <summary>Where it begins, seconds.</summary>
    public double Start => Centre - (Hold / 2) - Fall;

    /// <summary>Where it ends, seconds.</summary>
    public double End => Centre + (Hold / 2) + Rise;

    /// <summary>How far from its middle it reaches.</summary>
    public double Reach => Math.Max(Fall, Rise) + (Hold / 2);

    /// <summary>dB, 0 or less.</summary>
    public double At(double t)
    {
        var flank = t < Centre ? Fall : Rise;
        var away = Math.Abs(t - Centre) - (Hold / 2);
        var share = away <= 0 ? 1 : away >= flank ? 0 : Pointed ? 1 - Math.Sin(Math.PI / 2 * away / flank) : (1 + Math.Cos(Math.PI * away / flank)) / 2;
        return -Depth * share;
    }
}

/// <summary>What the level does at one change: a dip, and where a partial breaks beside a tongue, two that lie over one another.</summary>
/// <param name="Main">The one that reaches deepest, or all there is.</param>
/// <param name="Beside">The other; null where there is none.</param>
internal readonly record struct Dips(DipShape Main, DipShape? Beside)
{
    /// <summary>dB: nothing is followed further down.</summary>
    public const double Deepest = 70;

    /// <summary>Where the first begins, seconds.</summary>
    public double Start => Math.Min(Main.Start, Beside?.Start ?? Main.Start);

    /// <summary>Where the last ends, seconds.</summary>
    public double End => Math.Max(Main.End, Beside?.End ?? Main.End);

    /// <summary>Middle of what is spanned, seconds: with one dip, of its bottom.</summary>
    public double Centre => Beside is null ? Main.Centre : (Start + End) / 2;

    /// <summary>How far from its middle it reaches.</summary>
    public double Reach => Beside is null ? Main.Reach : (End - Start) / 2;

    /// <summary>dB, 0 or less.</summary>
    public double At(double t) => Beside is { } other ? Math.Max(-Deepest, Main.At(t) + other.At(t)) : Main.At(t);
}
