namespace Seamwright.Core.Scores.Abc;

/// <summary>One tune of a file: the lines that hold for all tunes, and its own (ABC 2.1, section 2.2).</summary>
/// <param name="Shared">The file header: fields and directives before the first tune.</param>
/// <param name="Lines">From <c>X:</c> to the empty line that ends the tune.</param>
/// <param name="Others">How many other tunes the file holds.</param>
internal sealed record TuneText(IReadOnlyList<TextLine> Shared, IReadOnlyList<TextLine> Lines, int Others)
{
    /// <summary>Picks a tune.</summary>
    /// <param name="lines">The whole file.</param>
    /// <param name="number">Its reference number; null for the first.</param>
    /// <returns>Null where there is no such tune.</returns>
    public static TuneText? Pick(IReadOnlyList<TextLine> lines, int? number)
    {
        var starts = Enumerable.Range(0, lines.Count).Where(i => lines[i].Field == 'X').ToList();
        if (starts.Count == 0) return number is null ? Fragment(lines) : null;
        var start = number is null ? starts[0] : starts.Where(i => ReferenceOf(lines[i]) == number).Append(-1).First();
        return start < 0 ? null : new TuneText(FileHeader(lines, starts[0]), Until(lines, start), starts.Count - 1);
    }

    /// <summary>The reference numbers in a file, in its order, as they are written.</summary>
    public static IEnumerable<string> References(IEnumerable<TextLine> lines) =>
        lines.Where(l => l.Field == 'X').Select(l => TextStrings.WithoutComment(l.Text)[2..].Trim());

    private static int? ReferenceOf(TextLine line) =>
        int.TryParse(TextStrings.WithoutComment(line.Text)[2..].Trim(), System.Globalization.NumberStyles.None, null, out var n) ? n : null;

    // Music without a reference number, as it stands in other documents (section 2.3.1).
    private static TuneText? Fragment(IReadOnlyList<TextLine> lines)
    {
        var first = lines.ToList().FindIndex(l => !l.IsEmpty);
        return first < 0 ? null : new TuneText([], Until(lines, first), 0);
    }

    private static List<TextLine> FileHeader(IReadOnlyList<TextLine> lines, int end) => [.. lines.Take(end).TakeWhile(l => !l.IsEmpty)];

    private static List<TextLine> Until(IReadOnlyList<TextLine> lines, int start)
    {
        var end = start + 1;
        while (end < lines.Count && !lines[end].IsEmpty && lines[end].Field != 'X') end++;
        return [.. lines.Skip(start).Take(end - start)];
    }
}
