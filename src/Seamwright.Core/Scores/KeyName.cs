using System.Diagnostics.CodeAnalysis;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores;

/// <summary>A key as a player says it: <c>Bb</c>, <c>F# minor</c>, <c>cm</c>.</summary>
/// <param name="Tonic">The first note of its scale.</param>
/// <param name="Mode">Null where only the tonic is said: the mode of the piece is meant.</param>
public readonly record struct KeyName(PitchName Tonic, KeyMode? Mode)
{
    /// <summary>Reads a tonic, alone or with <c>m</c>, <c>minor</c> or <c>major</c>.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out KeyName key)
    {
        key = default;
        var s = text?.Trim() ?? "";
        var end = 1;
        while (end < s.Length && s[end] is 'b' or '♭' or '#' or '♯') end++;
        if (s.Length == 0 || (s[1..end].AsSpan().ContainsAny('b', '♭') && s[1..end].AsSpan().ContainsAny('#', '♯')) || !PitchName.TryParse(s[..end], out var tonic)) return false;
        KeyMode? mode = null;
        switch (s[end..].Trim(' ', '-').ToLowerInvariant())
        {
            case "": break;
            case "m" or "min" or "minor": mode = KeyMode.Minor; break;
            case "maj" or "major": mode = KeyMode.Major; break;
            default: return false;
        }

        key = new KeyName(tonic, mode);
        return true;
    }

    /// <summary>The signature in a mode; null where it would need more than 7 sharps or flats.</summary>
    public KeySignature? SignatureIn(KeyMode mode)
    {
        var fifths = Tonic.Fifths - (mode == KeyMode.Minor ? 3 : 0);
        return fifths is >= -7 and <= 7 ? new KeySignature(fifths, mode) : null;
    }

    public override string ToString() => Tonic + (Mode is { } mode ? $" {mode.ToString().ToLowerInvariant()}" : "");
}
