using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>How far an accidental reaches inside its bar (ABC 2.1, section 11.3).</summary>
internal enum AccidentalReach
{
    /// <summary>All octaves: the standard's default.</summary>
    Pitch,

    /// <summary>Its own octave.</summary>
    Octave,

    /// <summary>Its own note.</summary>
    Note,
}

/// <summary>What the header says, and what holds for all voices.</summary>
internal sealed class TuneFields
{
    private static readonly Dictionary<char, string> StandardSymbols = new()
    {
        ['~'] = "roll",
        ['H'] = "fermata",
        ['L'] = "accent",
        ['M'] = "lowermordent",
        ['O'] = "coda",
        ['P'] = "uppermordent",
        ['S'] = "segno",
        ['T'] = "trill",
        ['u'] = "upbow",
        ['v'] = "downbow",
    };

    public List<string> Titles { get; } = [];

    public List<string> Composers { get; } = [];

    public string Rights { get; private set; } = "";

    /// <summary>Null for free meter.</summary>
    public Meter? Meter { get; set; }

    public Beats? Unit { get; set; }

    public string Tempo { get; private set; } = "";

    public TextLine TempoLine { get; private set; }

    public string PlayOrder { get; private set; } = "";

    /// <summary>Letters that stand for symbols; empty text for none.</summary>
    public Dictionary<char, string> Symbols { get; } = new(StandardSymbols);

    public AccidentalReach Reach { get; private set; }

    /// <summary>What encloses the name of a symbol.</summary>
    public char SymbolSign { get; private set; } = '!';

    /// <summary>Whether an exclamation mark only ends a line of print.</summary>
    public bool MarksBreakLines { get; private set; }

    /// <summary>Whether the file keeps to version 2.1: words are then aligned from the first note that has none.</summary>
    public bool IsStrict { get; private set; }

    /// <summary>Takes a field of a header, or a <c>U:</c>, <c>I:</c> or directive anywhere.</summary>
    /// <returns>What should be said about it; null for nothing.</returns>
    public string? Take(char field, string value, TextLine line)
    {
        switch (field)
        {
            case 'T' when TextStrings.Plain(value) is { Length: > 0 } title && !Titles.Contains(title): Titles.Add(title); break;
            case 'C' when TextStrings.Plain(value) is { Length: > 0 } composer: Composers.Add(composer); break;
            case 'Z' when value.Trim().StartsWith("abc-copyright", StringComparison.Ordinal): Rights = TextStrings.Plain(value.Trim()["abc-copyright".Length..].Trim()); break;
            case 'M': return TakeMeter(value);
            case 'L': return TakeUnit(value);
            case 'Q': (Tempo, TempoLine) = (value, line); break;
            case 'P': PlayOrder = value.Trim(); break;
            case 'U': return Define(value);
            case 'I': return Instruct(value);
            case 'm': return "A macro is not written out; its notes are read as they stand.";
        }

        return null;
    }

    /// <summary>The line that names the version, or a directive.</summary>
    public void TakeComment(string text)
    {
        if (text.StartsWith("%abc-", StringComparison.Ordinal)) TakeVersion(text[5..]);
        else if (text.StartsWith("%%", StringComparison.Ordinal)) Instruct(text[2..]);
    }

    /// <summary>The parts under the header's title, composer and rights.</summary>
    public Score Score(IEnumerable<Part> parts) => new()
    {
        Title = Titles.Count > 0 ? Titles[0] : "",
        Subtitle = Titles.Count > 1 ? Titles[1] : "",
        Composer = OneLine.Of(string.Join("; ", Composers)),
        Rights = Rights,
        Parts = [.. parts],
    };

    private void TakeVersion(string text) =>
        IsStrict = decimal.TryParse(text.Trim(), System.Globalization.NumberStyles.AllowDecimalPoint, System.Globalization.CultureInfo.InvariantCulture, out var version) && version >= 2.1m;

    private string? TakeMeter(string value)
    {
        var meter = TimeFields.Meter(value, out var free);
        if (meter is null && !free) return $"The meter '{OneLine.Of(value)}' cannot be used; the one before it stays.";
        Meter = meter;
        return null;
    }

    private string? TakeUnit(string value)
    {
        if (TimeFields.Unit(value) is not { } unit) return $"The unit note length '{OneLine.Of(value)}' cannot be used; the one before it stays.";
        Unit = unit;
        return null;
    }

    private string? Define(string value)
    {
        var sides = value.Split('=', 2);
        var letter = sides[0].Trim();
        if (sides.Length != 2 || letter.Length != 1 || letter[0] is not ('~' or (>= 'H' and <= 'W') or (>= 'h' and <= 'w')))
            return $"The symbol '{OneLine.Of(value)}' is not defined as a letter and a sign.";
        var symbol = sides[1].Trim();
        var name = symbol.Trim('!', '+');
        Symbols[letter[0]] = name is "nil" or "none" ? "" : symbol.StartsWith('"') ? symbol : name;
        return null;
    }

    private string? Instruct(string text)
    {
        var words = text.Split(' ', 2, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (words.Length < 2) return null;
        switch (words[0])
        {
            case "propagate-accidentals": Reach = words[1] switch { "not" => AccidentalReach.Note, "octave" => AccidentalReach.Octave, _ => AccidentalReach.Pitch }; break;
            case "abc-version": TakeVersion(words[1]); break;
            case "decoration": SymbolSign = words[1] == "+" ? '+' : '!'; break;
            case "linebreak" when words[1].Contains('!', StringComparison.Ordinal): (MarksBreakLines, SymbolSign) = (true, '+'); break;
            case "abc-include": return "Another file is named to be included; it is not opened.";
        }

        return null;
    }
}
