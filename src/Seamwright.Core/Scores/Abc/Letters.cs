using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Pitches and lengths as letters, signs and numbers (ABC 2.1, sections 4.1 to 4.3).</summary>
internal static class Letters
{
    /// <summary>The most a length may be multiplied or divided by.</summary>
    private const int MostTimes = 1024;

    // Numbers that a divisor may be made of beside twos: it keeps exact sums short on a hostile file.
    private const int MostOdd = 63;

    private static readonly Step[] Steps = [Step.A, Step.B, Step.C, Step.D, Step.E, Step.F, Step.G];

    /// <summary>The letter's step, of either case; null where it is no note.</summary>
    public static Step? StepOf(char c) => c is >= 'A' and <= 'G' ? Steps[c - 'A'] : c is >= 'a' and <= 'g' ? Steps[c - 'a'] : null;

    /// <summary>Semitones of an accidental; null and no move where none stands here.</summary>
    public static int? Accidental(Scan scan)
    {
        if (scan.Take('=')) return 0;
        if (scan.Take('^')) return scan.Take('^') ? 2 : 1;
        if (scan.Take('_')) return scan.Take('_') ? -2 : -1;
        return null;
    }

    /// <summary>Reads a letter and its octave marks; <c>C</c> is middle C.</summary>
    public static (Step Step, int Octave) Pitch(Scan scan)
    {
        var octave = char.IsAsciiLetterUpper(scan.Next) ? 4 : 5;
        var step = StepOf(scan.Next)!.Value;
        scan.Skip();
        for (; ; )
        {
            if (scan.Take(',')) octave--;
            else if (scan.Take('\'')) octave++;
            else return (step, octave);
        }
    }

    /// <summary>Reads a length such as <c>3/2</c>, <c>/4</c> or <c>//</c>; 1 where none stands here.</summary>
    /// <returns>Null where it cannot be used.</returns>
    public static (int Times, int By)? Length(Scan scan)
    {
        var times = scan.Number() ?? 1;
        var slashes = scan.Count('/');
        var by = slashes == 0 ? 1 : scan.Number() ?? 2;
        if (slashes > 1) by = slashes > 10 || by > MostTimes ? int.MaxValue : by << (slashes - 1);
        if (times is < 1 or > MostTimes || by is < 1 or > MostTimes) return null;
        var odd = by;
        while (odd % 2 == 0) odd /= 2;
        return odd <= MostOdd ? (times, by) : null;
    }
}
