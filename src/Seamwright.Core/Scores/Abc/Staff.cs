using System.Globalization;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>What <c>K:</c> and <c>V:</c> fields say of clef, transposition and name (ABC 2.1, sections 4.6 and 7.1).</summary>
/// <remarks>A note's letter is first moved by <see cref="Octave"/>. It then sounds <see cref="Transpose"/> semitones and the clef's own
/// octave away, and is printed where <see cref="Middle"/> puts it.</remarks>
internal sealed record Staff
{
    public static readonly Staff Plain = new();

    /// <summary>Null where the file names none.</summary>
    public Clef? Clef { get; init; }

    /// <summary>Octaves that the clef's figure 8 adds to the sound.</summary>
    public int ClefOctave { get; init; }

    /// <summary>Octaves added to the letters.</summary>
    public int Octave { get; init; }

    /// <summary>Semitones added to the sound.</summary>
    public int Transpose { get; init; }

    /// <summary>The letter on the middle line; null for the clef's usual one.</summary>
    public Pitch? Middle { get; init; }

    public string Name { get; init; } = "";

    /// <summary>From letter to sound.</summary>
    public Interval ToSound => new((7 * ClefOctave) + Steps(Transpose), (12 * ClefOctave) + Transpose);

    /// <summary>From letter to print: whole octaves only.</summary>
    public Interval ToPrint
    {
        get
        {
            if (Middle is not { } middle) return Interval.Unison;
            var steps = UsualMiddle(Clef ?? Units.Clef.Treble).StaffIndex - middle.StaffIndex;
            return steps % 7 == 0 ? Interval.Octave * (steps / 7) : Interval.Unison;
        }
    }

    /// <summary>What is added to the sound to get the print; a clef's own octave is the clef's business.</summary>
    public Interval ToWritten => ToPrint + -new Interval(Steps(Transpose), Transpose);

    /// <summary>The clef with the print in mind: a part written a ninth up in the treble clef is a brass-band part.</summary>
    public Clef? Shown => Clef == Units.Clef.Treble && ToWritten == Interval.MajorNinth ? Units.Clef.TrebleBb : Clef;

    /// <summary>Takes the words it knows out of a field.</summary>
    /// <param name="words">Those it does not know stay.</param>
    /// <param name="said">Takes what should be said about them.</param>
    public Staff With(List<string> words, List<string> said)
    {
        var staff = this;
        words.RemoveAll(word =>
        {
            var (name, value) = Split(word);
            var next = name switch
            {
                "clef" or "" => ClefWords.Of(value, said) is { } clef ? staff with { Clef = clef.Clef ?? staff.Clef, ClefOctave = clef.Octave } : null,
                "middle" or "m" => staff with { Middle = MiddleOf(value) ?? staff.Middle },
                "transpose" or "t" => staff with { Transpose = Whole(value, 48, word, said) ?? staff.Transpose },
                "octave" => staff with { Octave = Whole(value, 6, word, said) ?? staff.Octave },
                "name" or "nm" => staff with { Name = TextStrings.Plain(value.Replace("\\n", " ", StringComparison.Ordinal)) },
                _ => staff,
            };
            if (next is null) return name.Length > 0;
            staff = next;
            return true;
        });
        return staff;
    }

    /// <summary>Words of a field, quoted ones whole: <c>name="Tenor I" clef=bass</c>.</summary>
    public static List<string> Words(string field)
    {
        var words = new List<string>();
        var scan = new Scan(field.Trim(), 0);
        while (!scan.Ended)
        {
            scan.SkipBlanks();
            var word = "";
            while (!scan.Ended && !char.IsWhiteSpace(scan.Next))
            {
                if (scan.Take('"')) word += scan.Until('"') ?? scan.Rest();
                else word += scan.Run(c => c != '"' && !char.IsWhiteSpace(c));
            }

            if (word.Length > 0) words.Add(word);
            else scan.Skip();
        }

        return words;
    }

    // The letters a number of semitones usually spans: 2 is a major second, 3 a minor third.
    private static int Steps(int semitones)
    {
        ReadOnlySpan<int> steps = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
        var size = Math.Abs(semitones);
        return Math.Sign(semitones) * ((size / 12 * 7) + steps[size % 12]);
    }

    private static (string Name, string Value) Split(string word)
    {
        var sign = word.IndexOf('=', StringComparison.Ordinal);
        return sign > 0 ? (word[..sign].ToLowerInvariant(), word[(sign + 1)..]) : ("", word);
    }

    private static int? Whole(string value, int most, string word, List<string> said)
    {
        if (int.TryParse(value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var n) && Math.Abs((long)n) <= most) return n;
        said.Add($"'{Assembling.OneLine.Of(word)}' is not a whole number from −{most} to {most} and is left out.");
        return null;
    }

    private static Pitch? MiddleOf(string value)
    {
        var scan = new Scan(value, 0);
        if (Letters.StepOf(scan.Next) is null) return null;
        var (step, octave) = Letters.Pitch(scan);
        return octave is >= -1 and <= 9 ? new Pitch(step, 0, octave) : null;
    }

    private static Pitch UsualMiddle(Clef clef) => clef switch
    {
        Units.Clef.Bass or Units.Clef.BassOctaveDown => new Pitch(Step.D, 0, 3),
        Units.Clef.Tenor => new Pitch(Step.A, 0, 3),
        Units.Clef.Alto => new Pitch(Step.C, 0, 4),
        _ => new Pitch(Step.B, 0, 4),
    };
}
