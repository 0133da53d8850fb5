namespace Seamwright.Core.Units;

/// <summary>A frequency, greater than 0. "No pitch" is never a frequency of 0: use a nullable or a case of its own.</summary>
/// <param name="Value">Hz.</param>
public readonly record struct Hertz(double Value)
{
    /// <summary>The international standard pitch (ISO 16): A4 = 440 Hz.</summary>
    public static readonly Hertz A440 = new(440);

    /// <summary>How far this lies above <paramref name="reference"/>: 1200·log2 of the ratio.</summary>
    public Cents Above(Hertz reference) => new(1200 * Math.Log2(Value / reference.Value));

    public static Hertz operator +(Hertz f, Cents c) => new(f.Value * Math.Pow(2, c.Value / 1200));

    public static Hertz operator -(Hertz f, Cents c) => f + -c;

    public static Hertz operator *(int harmonic, Hertz f) => new(harmonic * f.Value);

    public override string ToString() => $"{Value:0.##} Hz";
}

/// <summary>A difference of pitch: a hundredth of an equal-tempered semitone.</summary>
/// <param name="Value">Cents, positive upward.</param>
public readonly record struct Cents(double Value)
{
    public static Cents operator -(Cents c) => new(-c.Value);

    public static Cents operator +(Cents a, Cents b) => new(a.Value + b.Value);

    public static Cents operator -(Cents a, Cents b) => new(a.Value - b.Value);

    public override string ToString() => $"{Value:+0.0;-0.0;0.0} cents";
}

/// <summary>A length: of tubing, or of slide travel (positive outward).</summary>
/// <param name="Value">Centimetres.</param>
public readonly record struct Centimetres(double Value)
{
    public double Metres => Value / 100;

    public double Millimetres => Value * 10;

    public static Centimetres FromMetres(double metres) => new(metres * 100);

    public static Centimetres operator -(Centimetres a, Centimetres b) => new(a.Value - b.Value);

    public static Centimetres operator +(Centimetres a, Centimetres b) => new(a.Value + b.Value);

    public static Centimetres operator -(Centimetres c) => new(-c.Value);

    public static bool operator <(Centimetres a, Centimetres b) => a.Value < b.Value;

    public static bool operator >(Centimetres a, Centimetres b) => a.Value > b.Value;

    public override string ToString() => $"{Value:0.0} cm";
}

/// <summary>A time, or a difference of times.</summary>
/// <param name="Value">Seconds.</param>
public readonly record struct Seconds(double Value) : IComparable<Seconds>
{
    public static readonly Seconds Zero = new(0);

    public double Milliseconds => Value * 1000;

    public static Seconds FromMilliseconds(double ms) => new(ms / 1000);

    public static Seconds operator +(Seconds a, Seconds b) => new(a.Value + b.Value);

    public static Seconds operator -(Seconds a, Seconds b) => new(a.Value - b.Value);

    public static Seconds operator -(Seconds a) => new(-a.Value);

    public static Seconds operator *(double k, Seconds s) => new(k * s.Value);

    public static bool operator <(Seconds a, Seconds b) => a.Value < b.Value;

    public static bool operator >(Seconds a, Seconds b) => a.Value > b.Value;

    public static bool operator <=(Seconds a, Seconds b) => a.Value <= b.Value;

    public static bool operator >=(Seconds a, Seconds b) => a.Value >= b.Value;

    public int CompareTo(Seconds other) => Value.CompareTo(other.Value);

    public override string ToString() => $"{Value:0.000} s";
}

/// <summary>A level relative to some stated reference; never a sound pressure level.</summary>
/// <param name="Value">Decibels: 20·log10 of an amplitude ratio.</param>
public readonly record struct Decibels(double Value)
{
    public static Decibels operator -(Decibels a, Decibels b) => new(a.Value - b.Value);

    public static Decibels operator +(Decibels a, Decibels b) => new(a.Value + b.Value);

    public override string ToString() => $"{Value:0.0} dB";
}

/// <summary>Samples in a second of sound: the only bridge from <see cref="Seconds"/> to sample counts.</summary>
/// <param name="Value">Hz, 8,000 to 192,000 for files.</param>
public readonly record struct SampleRate(int Value)
{
    /// <summary>The nearest sample to a time.</summary>
    public long ToSamples(Seconds time) => (long)Math.Round(time.Value * Value);

    /// <summary>The time of a sample.</summary>
    public Seconds ToSeconds(long sample) => new(sample / (double)Value);

    public override string ToString() => $"{Value} Hz";
}
