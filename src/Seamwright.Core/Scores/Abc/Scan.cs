using System.Globalization;
using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Abc;

/// <summary>A place that moves through one line of a text file.</summary>
/// <param name="text">Without its comment.</param>
/// <param name="line">From 1.</param>
/// <param name="firstColumn">The column of the text's first character, from 1.</param>
internal sealed class Scan(string text, int line, int firstColumn = 1)
{
    private int at;

    public int Line => line;

    public int Column => at + firstColumn;

    public bool Ended => at >= text.Length;

    /// <summary>The next character; <c>'\0'</c> at the end.</summary>
    public char Next => Peek(0);

    public char Peek(int ahead) => at + ahead < text.Length ? text[at + ahead] : '\0';

    public Place Here(string part) => new(part, Line: line, Column: Column);

    public void Skip(int count = 1) => at = Math.Min(text.Length, at + count);

    public void SkipBlanks()
    {
        while (Next is ' ' or '\t') at++;
    }

    public bool Take(char c)
    {
        if (Next != c || Ended) return false;
        at++;
        return true;
    }

    /// <summary>How many of a character stand here in a row; they are passed.</summary>
    public int Count(char c)
    {
        var start = at;
        while (Take(c)) { }
        return at - start;
    }

    /// <summary>Characters as long as they suit.</summary>
    public string Run(Func<char, bool> suits)
    {
        var start = at;
        while (!Ended && suits(Next)) at++;
        return text[start..at];
    }

    /// <summary>What stands before a character, which is passed too; null and no move where it does not follow.</summary>
    public string? Until(char end)
    {
        var found = text.IndexOf(end, at);
        if (found < 0) return null;
        var before = text[at..found];
        at = found + 1;
        return before;
    }

    public string Rest()
    {
        var rest = text[at..];
        at = text.Length;
        return rest;
    }

    /// <summary>A whole number without a sign; null and no move where none stands here, <see cref="int.MaxValue"/> where it is beyond counting.</summary>
    public int? Number()
    {
        var digits = Run(char.IsAsciiDigit);
        if (digits.Length == 0) return null;
        return int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : int.MaxValue;
    }
}
