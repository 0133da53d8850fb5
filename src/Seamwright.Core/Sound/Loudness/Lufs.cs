using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>A programme loudness after ITU-R BS.1770: loudness units against full scale (its LKFS). Sound without loudness is null,
/// never a very low number.</summary>
/// <param name="Value">LUFS; above −70, the absolute gate.</param>
public readonly record struct Lufs(double Value)
{
    /// <summary>A difference in loudness units, which are decibels.</summary>
    public static Decibels operator -(Lufs a, Lufs b) => new(a.Value - b.Value);

    public static Lufs operator +(Lufs a, Decibels gain) => new(a.Value + gain.Value);

    public override string ToString() => $"{Value:0.0} LUFS";
}

/// <summary>The highest point of the curve through the samples, between them too, after ITU-R BS.1770, annex 2.</summary>
/// <param name="Value">dB against full scale (dBTP); 0 is where a converter begins to clip.</param>
public readonly record struct TruePeak(double Value)
{
    /// <summary>A difference of levels.</summary>
    public static Decibels operator -(TruePeak a, TruePeak b) => new(a.Value - b.Value);

    public static TruePeak operator +(TruePeak a, Decibels gain) => new(a.Value + gain.Value);

    public override string ToString() => $"{Value:0.0} dBTP";
}
