using System.Globalization;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>The changes that were heard worst.</summary>
internal static class Worst
{
    /// <summary>A list for each quantity; what was not told at all comes first.</summary>
    /// <param name="takes">Scored.</param>
    /// <param name="count">How many of each.</param>
    /// <param name="output">Where they go.</param>
    public static void Print(IReadOnlyList<TakeScore> takes, int count, TextWriter output)
    {
        foreach (var quantity in Quantity.All)
        {
            var worst = takes.SelectMany(t => t.Quantities).Where(q => q.Quantity == quantity)
                .OrderByDescending(q => q.Error is { } e ? Math.Abs(e) : double.MaxValue).ThenBy(q => q.Take, StringComparer.Ordinal).Take(count).ToList();
            output.WriteLine();
            output.WriteLine($"{quantity,-34}{"change",7}{"at s",8}{"kind",13}{"asked",9}{"heard",9}");
            foreach (var q in worst)
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{q.Take,-34}{q.Change,7}{q.Time,8:F2}{q.Kind,13}{q.Asked,9:F1}{(q.Heard is { } h ? h.ToString("F1", CultureInfo.InvariantCulture) : "nothing"),9}"));
        }

        Notes(takes, count, output);
        Verdicts(takes, output);
    }

    private static void Notes(IReadOnlyList<TakeScore> takes, int count, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine($"{"note onset, ms",-34}{"note",7}{"at s",8}{"off by",13}");
        var worst = takes.SelectMany(t => t.Notes.Select((n, i) => (t.Name, Index: i, Note: n)))
            .OrderByDescending(n => n.Note.OnsetMs is { } o ? Math.Abs(o) : double.MaxValue).ThenBy(n => n.Name, StringComparer.Ordinal).Take(count);
        foreach (var (name, index, note) in worst)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-34}{index,7}{note.Time,8:F2}{(note.OnsetMs is { } o ? o.ToString("F1", CultureInfo.InvariantCulture) : "not found"),13}"));
    }

    private static void Verdicts(IReadOnlyList<TakeScore> takes, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("Verdicts that differ (clear of their limits)");
        foreach (var v in takes.SelectMany(t => t.Verdicts).Where(v => !v.Heard.Contains("cannot-tell") && v.Hair.IsEmpty && !v.Truth.SequenceEqual(v.Heard)).Take(60))
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{v.Take,-30}{v.Change,3}{v.Time,8:F2}  {string.Join(' ', v.Truth)} | {string.Join(' ', v.Heard)}"));
    }
}
