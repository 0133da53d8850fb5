using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>A key as ABC writes it: what is printed, and what it does to each letter.</summary>
/// <param name="Signature">As printed.</param>
/// <param name="Alters">Semitones for each letter from C to B.</param>
/// <param name="IsPrinted">Whether the signature alone says all of it.</param>
internal sealed record AbcKey(KeySignature Signature, ImmutableArray<int> Alters, bool IsPrinted)
{
    /// <summary>No signature.</summary>
    public static readonly AbcKey None = Of(new KeySignature(0));

    public static AbcKey Of(KeySignature signature) => new(signature, AltersOf(signature), true);

    public int AlterOf(Step step) => Alters[(int)step];

    /// <summary>The same key with some letters altered otherwise; an ordinary signature where there is one that says it.</summary>
    public AbcKey With(IReadOnlyList<(Step Step, int Alter)> changes)
    {
        var alters = Alters.ToBuilder();
        foreach (var (step, alter) in changes) alters[(int)step] = alter;
        for (var fifths = -7; fifths <= 7; fifths++)
        {
            var signature = new KeySignature(fifths, fifths == Signature.Fifths ? Signature.Mode : KeyMode.Major);
            if (AltersOf(signature).SequenceEqual(alters)) return Of(signature);
        }

        return this with { Alters = alters.ToImmutable(), IsPrinted = false };
    }

    private static ImmutableArray<int> AltersOf(KeySignature signature) => [.. Enum.GetValues<Step>().Select(signature.AlterOf)];
}

/// <summary>The key part of a <c>K:</c> field (ABC 2.1, section 3.1.14).</summary>
internal static class KeyField
{
    // Fifths against major, by the first three letters.
    private static readonly Dictionary<string, int> Modes = new()
    {
        ["maj"] = 0,
        ["ion"] = 0,
        ["lyd"] = 1,
        ["mix"] = -1,
        ["dor"] = -2,
        ["min"] = -3,
        ["aeo"] = -3,
        ["phr"] = -4,
        ["loc"] = -5,
    };

    /// <summary>Reads a key.</summary>
    /// <param name="words">The field's words that say nothing of clef and staff.</param>
    /// <param name="wrong">The word that cannot be read; null where all can.</param>
    /// <returns>Null where the words name no key.</returns>
    public static AbcKey? Read(IReadOnlyList<string> words, out string? wrong)
    {
        wrong = null;
        if (words.Count == 0) return null;
        if (words[0] is "none") return AbcKey.None;

        // Highland pipes: F and C are sharp, printed or not.
        if (words[0] is "Hp") return AbcKey.Of(new KeySignature(2));
        if (words[0] is "HP") return AbcKey.None with { Alters = AbcKey.Of(new KeySignature(2)).Alters, IsPrinted = false };
        var used = 0;
        var key = words[0][0] is >= 'A' and <= 'G' ? Tonic(words, out used, out wrong) : null;
        if (wrong is not null) return null;
        var changes = new List<(Step, int)>();
        foreach (var word in words.Skip(used))
        {
            if (!Changes(word, changes)) wrong ??= word;
        }

        return changes.Count == 0 ? key : (key ?? AbcKey.None).With(changes);
    }

    private static AbcKey? Tonic(IReadOnlyList<string> words, out int used, out string? wrong)
    {
        (used, wrong) = (1, null);
        var word = words[0];
        var end = word.Length > 1 && word[1] is '#' or 'b' or '♯' or '♭' ? 2 : 1;
        var mode = word[end..];
        if (mode.Length == 0 && words.Count > 1 && IsMode(words[1]))
        {
            mode = words[1];
            used = 2;
        }

        var explicitly = mode.StartsWith("exp", StringComparison.OrdinalIgnoreCase);
        if (!PitchName.TryParse(word[..end], out var tonic) || (mode.Length > 0 && !IsMode(mode)))
        {
            wrong = string.Join(' ', words.Take(used));
            return null;
        }

        if (explicitly) return AbcKey.None;
        var fifths = tonic.Fifths + (mode.Length == 0 ? 0 : FifthsOf(mode)!.Value);
        if (fifths is >= -7 and <= 7) return AbcKey.Of(new KeySignature(fifths, mode.Length > 0 && FifthsOf(mode) == -3 ? KeyMode.Minor : KeyMode.Major));
        wrong = string.Join(' ', words.Take(used));
        return null;
    }

    private static bool IsMode(string word) => FifthsOf(word) is not null || word.StartsWith("exp", StringComparison.OrdinalIgnoreCase);

    private static int? FifthsOf(string mode)
    {
        if (mode is "m" or "M") return mode == "m" ? -3 : 0;
        return mode.Length >= 3 && mode.All(char.IsAsciiLetter) && Modes.TryGetValue(mode[..3].ToLowerInvariant(), out var fifths) ? fifths : null;
    }

    private static bool Changes(string word, List<(Step, int)> changes)
    {
        var scan = new Scan(word, 0);
        while (!scan.Ended)
        {
            if (Letters.Accidental(scan) is not { } alter || Letters.StepOf(scan.Next) is not { } step) return false;
            scan.Skip();
            changes.Add((step, alter));
        }

        return true;
    }
}
