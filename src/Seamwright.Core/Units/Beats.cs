using System.Diagnostics.CodeAnalysis;
using System.Numerics;
using Fractions;

namespace Seamwright.Core.Units;

/// <summary>A span or place in written time, in quarter notes, as an exact fraction.</summary>
/// <remarks>Becomes seconds only through a <see cref="TempoMap"/>. Equality is by value: 1/2 is 2/4.</remarks>
public readonly struct Beats : IEquatable<Beats>, IComparable<Beats>
{
    private readonly Fraction value;

    private Beats(Fraction value) => this.value = value.Reduce();

    /// <summary>A fraction of a quarter note.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The denominator is not positive.</exception>
    public Beats(BigInteger numerator, BigInteger denominator)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(denominator);
        value = new Fraction(numerator, denominator, normalize: true);
    }

    public static readonly Beats Zero = new(0, 1);

    /// <summary>One quarter note.</summary>
    public static readonly Beats Quarter = new(1, 1);

    public BigInteger Numerator => value.Numerator;

    public BigInteger Denominator => value.Denominator.IsZero ? BigInteger.One : value.Denominator;

    /// <summary>The nearest double, in quarter notes.</summary>
    public double ToDouble() => (double)Numerator / (double)Denominator;

    public static Beats operator +(Beats a, Beats b) => new(a.value + b.value);

    public static Beats operator -(Beats a, Beats b) => new(a.value - b.value);

    public static Beats operator *(Beats a, int k) => new(a.value * k);

    public static Beats operator /(Beats a, int k) => new(a.value / k);

    public static Beats operator -(Beats a) => new(-a.value);

    public static bool operator ==(Beats a, Beats b) => a.Equals(b);

    public static bool operator !=(Beats a, Beats b) => !a.Equals(b);

    public static bool operator <(Beats a, Beats b) => a.CompareTo(b) < 0;

    public static bool operator >(Beats a, Beats b) => a.CompareTo(b) > 0;

    public static bool operator <=(Beats a, Beats b) => a.CompareTo(b) <= 0;

    public static bool operator >=(Beats a, Beats b) => a.CompareTo(b) >= 0;

    /// <summary>This span as a multiple of another, exactly.</summary>
    public Beats Times(int numerator, int denominator) => new(value * new Fraction(numerator, denominator));

    public int CompareTo(Beats other) => (Numerator * other.Denominator).CompareTo(other.Numerator * Denominator);

    public bool Equals(Beats other) => Numerator == other.Numerator && Denominator == other.Denominator;

    public override bool Equals([NotNullWhen(true)] object? obj) => obj is Beats b && Equals(b);

    public override int GetHashCode() => HashCode.Combine(Numerator, Denominator);

    /// <summary><c>3/2</c>, or <c>2</c> where it is whole.</summary>
    public override string ToString() => Denominator.IsOne ? $"{Numerator}" : $"{Numerator}/{Denominator}";

    /// <summary>Reads <c>2</c> or <c>3/2</c>.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out Beats beats)
    {
        beats = default;
        var parts = (text ?? "").Split('/');
        if (parts.Length > 2 || !BigInteger.TryParse(parts[0], out var n)) return false;
        var d = BigInteger.One;
        if (parts.Length == 2 && (!BigInteger.TryParse(parts[1], out d) || d.Sign <= 0)) return false;
        beats = new Beats(n, d);
        return true;
    }
}
