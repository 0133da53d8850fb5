namespace Seamwright.Core.Scores.Abc;

/// <summary>A bar line of any shape, with repeats and the numbers of an ending (ABC 2.1, sections 4.8 to 4.10).</summary>
/// <param name="Ends">How often the passage before it is played in all; 0 for no repeat.</param>
/// <param name="Starts">How often the passage after it is played in all; 0 for no repeat.</param>
/// <param name="Style">How it is drawn.</param>
internal readonly record struct BarSymbol(int Ends, int Starts, BarlineStyle Style)
{
    private const int MostTimes = 64;

    /// <summary>Whether a bar line begins here.</summary>
    public static bool StandsAt(Scan scan) => scan.Next switch
    {
        '|' => true,
        ':' => scan.Peek(1) is '|' or ':',
        '[' => scan.Peek(1) is '|' or ']',
        '.' => scan.Peek(1) == '|',
        _ => false,
    };

    /// <summary>Reads as much as belongs to one bar line.</summary>
    public static BarSymbol Read(Scan scan)
    {
        scan.Take('.');
        var signs = "";
        while (scan.Next is '|' or ':' or ']' || (scan.Next == '[' && scan.Peek(1) is '|' or ']'))
        {
            if (signs.Length < MostTimes * 4) signs += scan.Next;
            scan.Skip();
        }

        var dots = signs.Trim('|', '[', ']');
        var bars = signs.Replace(":", "", StringComparison.Ordinal);
        if (bars.Length == 0) return new BarSymbol(Times(signs.Length / 2), Times(signs.Length - (signs.Length / 2)), BarlineStyle.Regular);
        var before = signs.Length - signs.TrimStart(':').Length;
        var after = dots.Length > 0 ? signs.Length - signs.TrimEnd(':').Length : 0;
        return new BarSymbol(Times(before), Times(after), before + after > 0 ? BarlineStyle.Regular : StyleOf(bars));
    }

    /// <summary>Numbers of an ending such as <c>1</c>, <c>1,3</c> or <c>1-3</c>; empty where none stands here.</summary>
    public static List<int> EndingNumbers(Scan scan)
    {
        var numbers = new SortedSet<int>();
        while (scan.Number() is { } first)
        {
            var last = scan.Next == '-' && char.IsAsciiDigit(scan.Peek(1)) ? Second(scan) : first;
            for (var n = Math.Max(1, first); n <= Math.Min(last, MostTimes); n++) numbers.Add(n);
            if (scan.Next != ',' || !char.IsAsciiDigit(scan.Peek(1))) break;
            scan.Skip();
        }

        return [.. numbers];
    }

    private static int Second(Scan scan)
    {
        scan.Skip();
        return scan.Number() ?? 0;
    }

    private static int Times(int dots) => dots == 0 ? 0 : Math.Min(dots + 1, MostTimes);

    private static BarlineStyle StyleOf(string bars) => bars switch
    {
        "|]" => BarlineStyle.Final,
        "|" or "[]" or "[|]" => BarlineStyle.Regular,
        _ when bars.EndsWith("|]", StringComparison.Ordinal) => BarlineStyle.Final,
        _ => BarlineStyle.Double,
    };
}
