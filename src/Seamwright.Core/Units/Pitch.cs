using System.Diagnostics.CodeAnalysis;

namespace Seamwright.Core.Units;

/// <summary>The seven letters of a scale, counted up from C.</summary>
public enum Step
{
    C, D, E, F, G, A, B,
}

/// <summary>A spelled pitch in twelve-tone notation, for instance B-flat 3; always at concert pitch unless said otherwise.</summary>
/// <remarks>A point on the pitch axis: subtracting two gives an <see cref="Interval"/>. Equality is by spelling, so
/// A-sharp 3 is not B-flat 3; compare <see cref="Midi"/> for sound. Octave numbers follow scientific pitch notation
/// (middle C is C4, MIDI 60).</remarks>
/// <param name="Step">The letter.</param>
/// <param name="Alter">Semitones added to the letter, −2 to 2.</param>
/// <param name="Octave">Scientific octave, −1 to 9.</param>
public readonly record struct Pitch(Step Step, int Alter, int Octave) : IComparable<Pitch>
{
    private static readonly int[] Semitones = [0, 2, 4, 5, 7, 9, 11];

    /// <summary>Note number in the MIDI 1.0 convention: middle C = 60.</summary>
    public int Midi => ((Octave + 1) * 12) + Semitones[(int)Step] + Alter;

    /// <summary>The letter with its accidental.</summary>
    public PitchName Name => new(Step, Alter);

    /// <summary>Letters above C0: what a staff position counts.</summary>
    public int StaffIndex => (Octave * 7) + (int)Step;

    /// <summary>The equal-tempered spelling most brass readers expect: F-sharp, else flats.</summary>
    /// <param name="midi">0 to 127.</param>
    public static Pitch FromMidi(int midi)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(midi);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(midi, 127);
        var (step, alter) = (midi % 12) switch
        {
            0 => (Step.C, 0),
            1 => (Step.D, -1),
            2 => (Step.D, 0),
            3 => (Step.E, -1),
            4 => (Step.E, 0),
            5 => (Step.F, 0),
            6 => (Step.F, 1),
            7 => (Step.G, 0),
            8 => (Step.A, -1),
            9 => (Step.A, 0),
            10 => (Step.B, -1),
            _ => (Step.B, 0),
        };
        return new Pitch(step, alter, (midi / 12) - 1);
    }

    /// <summary>Equal-tempered frequency.</summary>
    /// <param name="a4">Frequency of A4, usually 440 Hz.</param>
    public Hertz Frequency(Hertz a4) => new(a4.Value * Math.Pow(2, (Midi - 69) / 12.0));

    /// <summary>Reads <c>Bb3</c>, <c>F#4</c>, <c>B♭3</c>, <c>Ebb2</c> or <c>C</c> followed by an octave; letters of either case.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out Pitch pitch)
    {
        pitch = default;
        if (string.IsNullOrWhiteSpace(text)) return false;
        var s = text.Trim();
        if (!Enum.TryParse<Step>(s[..1], ignoreCase: true, out var step) || !char.IsAsciiLetter(s[0])) return false;
        var i = 1;
        var alter = 0;
        for (; i < s.Length && Accidental(s[i]) is { } a; i++) alter += a;
        if (Math.Abs(alter) > 2) return false;
        if (!int.TryParse(s.AsSpan(i), System.Globalization.NumberStyles.AllowLeadingSign, null, out var octave)) return false;
        if (octave is < -1 or > 9) return false;
        pitch = new Pitch(step, alter, octave);
        return pitch.Midi is >= 0 and <= 127;
    }

    /// <summary>As <see cref="TryParse"/>.</summary>
    /// <exception cref="ArgumentException">The text is not a pitch.</exception>
    public static Pitch Parse(string text) =>
        TryParse(text, out var p) ? p : throw new ArgumentException($"'{text}' is not a pitch such as Bb3 or F#4.", nameof(text));

    /// <summary>The interval from <paramref name="from"/> up to <paramref name="to"/>.</summary>
    public static Interval operator -(Pitch to, Pitch from) => new(to.StaffIndex - from.StaffIndex, to.Midi - from.Midi);

    /// <summary>Transposition that keeps the spelling; beyond a double accidental the nearest enharmonic spelling is taken.</summary>
    public static Pitch operator +(Pitch pitch, Interval interval)
    {
        var index = pitch.StaffIndex + interval.Steps;
        var midi = pitch.Midi + interval.Semitones;
        return Spell(index, midi);
    }

    /// <summary>Transposition downward.</summary>
    public static Pitch operator -(Pitch pitch, Interval interval) => pitch + -interval;

    public static bool operator <(Pitch a, Pitch b) => a.CompareTo(b) < 0;

    public static bool operator >(Pitch a, Pitch b) => a.CompareTo(b) > 0;

    public static bool operator <=(Pitch a, Pitch b) => a.CompareTo(b) <= 0;

    public static bool operator >=(Pitch a, Pitch b) => a.CompareTo(b) >= 0;

    /// <summary>By sound, then by staff position.</summary>
    public int CompareTo(Pitch other)
    {
        var bySound = Midi.CompareTo(other.Midi);
        return bySound != 0 ? bySound : StaffIndex.CompareTo(other.StaffIndex);
    }

    /// <summary><c>Bb3</c>, <c>F#4</c>, <c>C4</c>.</summary>
    public override string ToString() => $"{Step}{new string(Alter < 0 ? 'b' : '#', Math.Abs(Alter))}{Octave}";

    /// <summary><c>B♭3</c>: for readers rather than files, by the <see cref="NoteNaming"/> in force.</summary>
    public string ToDisplay() => NoteNaming.Current.Of(this);

    private static int? Accidental(char c) => c switch
    {
        'b' or '♭' => -1,
        '#' or '♯' => 1,
        _ => null,
    };

    private static Pitch Spell(int staffIndex, int midi)
    {
        // Step by step away from the wanted letter until the accidental is one that exists in print.
        foreach (var shift in (ReadOnlySpan<int>)[0, 1, -1, 2, -2])
        {
            var index = staffIndex + shift;
            var octave = (int)Math.Floor(index / 7.0);
            var natural = new Pitch((Step)(index - (octave * 7)), 0, octave);
            var alter = midi - natural.Midi;
            if (Math.Abs(alter) <= 2) return natural with { Alter = alter };
        }

        return FromMidi(midi);
    }
}

/// <summary>The difference of two pitches: letters and semitones, so that an augmented fourth is not a diminished fifth.</summary>
/// <param name="Steps">Letters up (negative: down).</param>
/// <param name="Semitones">Semitones up (negative: down).</param>
public readonly record struct Interval(int Steps, int Semitones)
{
    /// <summary>No change.</summary>
    public static readonly Interval Unison = new(0, 0);

    /// <summary>One octave up.</summary>
    public static readonly Interval Octave = new(7, 12);

    /// <summary>A major second up.</summary>
    public static readonly Interval MajorSecond = new(1, 2);

    /// <summary>A major ninth up: what a brass-band tenor part is written above its sound.</summary>
    public static readonly Interval MajorNinth = new(8, 14);

    /// <summary>Reads <c>M2</c>, <c>m3</c>, <c>P5</c>, <c>A4</c>, <c>d5</c> up, or <c>-m3</c> down: quality and number, 1 to 22.</summary>
    public static bool TryParse(string? text, out Interval interval)
    {
        interval = default;
        var s = (text ?? "").Trim();
        var down = s.StartsWith('-');
        s = s.TrimStart('-', '+');
        if (s.Length < 2 || !int.TryParse(s.AsSpan(1), System.Globalization.NumberStyles.None, null, out var number) || number is < 1 or > 22) return false;
        ReadOnlySpan<int> plain = [0, 2, 4, 5, 7, 9, 11];
        var steps = number - 1;
        var perfect = steps % 7 is 0 or 3 or 4;
        int? off = (s[0], perfect) switch
        {
            ('P', true) or ('M', false) => 0,
            ('m', false) => -1,
            ('d', true) => -1,
            ('d', false) => -2,
            ('A', _) => 1,
            _ => null,
        };
        if (off is not { } add) return false;
        var up = new Interval(steps, (steps / 7 * 12) + plain[steps % 7] + add);
        interval = down ? -up : up;
        return true;
    }

    public static Interval operator *(Interval i, int times) => new(i.Steps * times, i.Semitones * times);

    public static Interval operator -(Interval i) => new(-i.Steps, -i.Semitones);

    public static Interval operator +(Interval a, Interval b) => new(a.Steps + b.Steps, a.Semitones + b.Semitones);
}
