using System.Text.RegularExpressions;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Chord symbols over the notes: <c>Gm7</c>, <c>Bb7(b9)/D</c> (ABC 2.1, section 4.18, read liberally as it asks).</summary>
internal static partial class ChordSymbols
{
    private static readonly Dictionary<string, ChordKind> Kinds = AllNames();

    /// <summary>Reads a symbol.</summary>
    /// <param name="text">Between the quotes.</param>
    /// <returns>Null where it names no chord that is known here.</returns>
    public static Chord? Read(string text)
    {
        var symbol = text.Trim().Replace('♭', 'b').Replace('♯', '#').Replace("♮", "", StringComparison.Ordinal);
        symbol = Alternative().Replace(symbol, "");
        PitchName? bass = null;
        if (Below().Match(symbol) is { Success: true } below && PitchName.TryParse(below.Groups[1].Value, out var lowest))
            (bass, symbol) = (lowest, symbol[..below.Index]);
        if (Root().Match(symbol) is not { Success: true } root || !PitchName.TryParse(root.Value, out var name)) return null;
        return Built(name, symbol[root.Length..].Trim(), bass == name ? null : bass);
    }

    /// <summary>Whether the text says that the accompaniment is silent.</summary>
    public static bool IsNone(string text) => text.Trim() is "N.C." or "NC" or "n.c.";

    // The longest name that fits, so that all that follows it are degrees.
    private static Chord? Built(PitchName root, string kind, PitchName? bass)
    {
        if (kind is "7sus4" or "7sus") return new Chord(root, ChordKind.SuspendedFourth) { Bass = bass, Degrees = [new ChordDegree(7, 0, DegreeChange.Add)] };
        for (var length = kind.Length; length >= 0; length--)
        {
            if (!Kinds.TryGetValue(kind[..length], out var known) || Degrees(kind[length..]) is not { } degrees) continue;
            return new Chord(root, known) { Bass = bass, Degrees = [.. degrees] };
        }

        return null;
    }

    private static List<ChordDegree>? Degrees(string text)
    {
        var plain = text.Replace("(", " ", StringComparison.Ordinal).Replace(")", " ", StringComparison.Ordinal).Replace(",", " ", StringComparison.Ordinal);
        var degrees = new List<ChordDegree>();
        foreach (Match match in Degree().Matches(plain))
        {
            if (!match.Success || degrees.Count >= 8) return null;
            var number = int.Parse(match.Groups[3].ValueSpan, System.Globalization.CultureInfo.InvariantCulture);
            var alter = match.Groups[2].Value switch { "b" => -1, "bb" => -2, "#" => 1, "##" => 2, _ => 0 };
            var change = match.Groups[1].Value switch { "add" => DegreeChange.Add, "no" or "omit" => DegreeChange.Remove, _ => DegreeChange.Alter };
            if (number is < 1 or > 13 || (change == DegreeChange.Alter && alter == 0)) return null;
            degrees.Add(new ChordDegree(number, alter, change));
        }

        return Degree().Replace(plain, "").Trim().Length == 0 ? degrees : null;
    }

    private static Dictionary<string, ChordKind> AllNames()
    {
        var names = Enum.GetValues<ChordKind>().ToDictionary(ChordKinds.SuffixOf);
        foreach (var (name, kind) in (ReadOnlySpan<(string, ChordKind)>)
        [
            ("maj", ChordKind.Major), ("M", ChordKind.Major), ("min", ChordKind.Minor), ("-", ChordKind.Minor), ("mi", ChordKind.Minor),
            ("aug", ChordKind.Augmented), ("o", ChordKind.Diminished), ("°", ChordKind.Diminished), ("Maj7", ChordKind.MajorSeventh), ("M7", ChordKind.MajorSeventh),
            ("ma7", ChordKind.MajorSeventh), ("min7", ChordKind.MinorSeventh), ("-7", ChordKind.MinorSeventh), ("o7", ChordKind.DiminishedSeventh), ("°7", ChordKind.DiminishedSeventh),
            ("aug7", ChordKind.AugmentedSeventh), ("ø", ChordKind.HalfDiminished), ("ø7", ChordKind.HalfDiminished), ("m7(b5)", ChordKind.HalfDiminished), ("mM7", ChordKind.MinorMajorSeventh),
            ("maj6", ChordKind.MajorSixth), ("min6", ChordKind.MinorSixth), ("M9", ChordKind.MajorNinth), ("min9", ChordKind.MinorNinth), ("sus", ChordKind.SuspendedFourth),
        ])
            names[name] = kind;
        return names;
    }

    // Another chord for print only: "G(Em)".
    [GeneratedRegex(@"\([A-G][^)]*\)", RegexOptions.NonBacktracking)]
    private static partial Regex Alternative();

    [GeneratedRegex("/([A-Ga-g][#b]?)$", RegexOptions.NonBacktracking)]
    private static partial Regex Below();

    [GeneratedRegex("^[A-G][#b]?", RegexOptions.NonBacktracking)]
    private static partial Regex Root();

    [GeneratedRegex("(add|no|omit)?(bb|b|##|#)?([0-9]{1,2})", RegexOptions.NonBacktracking)]
    private static partial Regex Degree();
}
