using System.Globalization;
using Seamwright.Core.Instruments;

namespace Seamwright.Core.Planning;

/// <summary>Which settings are meant: a tube, a whole position, a partial, or any of them left open.</summary>
/// <param name="Side">Label of the tube (<c>F</c>), empty for the open horn, null for any.</param>
/// <param name="Position">Whole position as the sheet names it, null for any.</param>
/// <param name="Partial">Null for any.</param>
public sealed record SettingPattern(string? Side, int? Position, int? Partial)
{
    /// <summary>Every setting with a valve down.</summary>
    public static readonly SettingPattern AnyValve = new("*", null, null);

    /// <summary>The pattern that means one setting and no other of its note.</summary>
    public static SettingPattern Of(SlideSetting setting) => new(setting.Side.Label, PositionLabel.Whole(setting), setting.Partial);

    /// <summary>Whether the instrument has a tube of that name.</summary>
    public bool Exists(Instrument instrument) => instrument.Sides.Any(MatchesSide);

    /// <summary>Whether a setting is meant.</summary>
    public bool Matches(SlideSetting setting) =>
        (Partial is null || Partial == setting.Partial)
        && (Position is null || Position == PositionLabel.Whole(setting))
        && MatchesSide(setting.Side);

    /// <summary>Reads <c>4</c> (fourth, any tube), <c>open4</c>, <c>F2</c>, <c>F</c>, <c>valves</c>, <c>p5</c> (fifth partial), <c>F2p3</c>.</summary>
    public static bool TryParse(string text, out SettingPattern pattern)
    {
        pattern = new SettingPattern(null, null, null);
        var rest = text.Trim().Replace('♭', 'b').Replace('♯', '#').Replace(" ", "");
        if (rest.Length == 0) return false;
        if (rest.Equals("valves", StringComparison.OrdinalIgnoreCase))
        {
            pattern = AnyValve;
            return true;
        }

        var partialAt = rest.LastIndexOf('p');
        if (partialAt >= 0 && partialAt + 1 < rest.Length && char.IsAsciiDigit(rest[partialAt + 1]))
        {
            if (!TryNumber(rest[(partialAt + 1)..], 1, 16, out var partial)) return false;
            pattern = pattern with { Partial = partial };
            rest = rest[..partialAt];
        }

        var digits = rest.Length;
        while (digits > 0 && char.IsAsciiDigit(rest[digits - 1])) digits--;
        if (digits < rest.Length)
        {
            if (!TryNumber(rest[digits..], 1, 8, out var position)) return false;
            pattern = pattern with { Position = position };
        }

        var side = rest[..digits];
        if (side is "b" or "#") side = "";
        if (side.Equals("open", StringComparison.OrdinalIgnoreCase)) pattern = pattern with { Side = "" };
        else if (side.Length > 0) pattern = pattern with { Side = side };
        return true;
    }

    public override string ToString() =>
        $"{(Side is "" ? "open" : Side is "*" ? "valves" : Side)}{Position}{(Partial is { } p ? $"p{p}" : "")}";

    private static bool TryNumber(string text, int low, int high, out int value) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value) && value >= low && value <= high;

    private bool MatchesSide(Side side) => Side switch
    {
        null => true,
        "" => side.Valves.IsEmpty,
        "*" => !side.Valves.IsEmpty,
        _ => Names(side).Any(n => n.Equals(Side.Replace('♭', 'b'), StringComparison.OrdinalIgnoreCase)),
    };

    // "F", and also "Fb" and "F#": people copy the whole label of a setting.
    private static IEnumerable<string> Names(Side side)
    {
        if (side.Valves.IsEmpty) return [side.Id];
        var label = side.Label.Replace('♭', 'b');
        return [label, side.Id, label + "b", label + "#"];
    }
}

/// <summary>A note that must be played in one way.</summary>
/// <param name="NoteIndex">Place in the played line, from 0.</param>
/// <param name="Pattern">The way.</param>
public sealed record NoteLock(int NoteIndex, SettingPattern Pattern);
