using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Vibrato in a reader's words: a note's own, and that of a whole take in one sentence.</summary>
internal static class VibratoWords
{
    // From so many on they are told together (proposed default).
    private const int Many = 3;

    /// <summary>Of one note.</summary>
    public static string Of(Vibrato vibrato) => $"It has a vibrato of {vibrato.Rate.Value:0.0} swings a second, {vibrato.Extent.Value:0} cents to each side.";

    /// <summary>Of many; null where they are few, and each note's own is told.</summary>
    public static string? Together(Take take)
    {
        var swung = take.Notes.Select(n => n.Vibrato).OfType<Vibrato>().ToList();
        if (swung.Count < Many) return null;
        var found = take.Notes.Count(n => n.Found);
        return $"{(swung.Count == found ? $"All {found} notes" : $"{swung.Count} of {found} notes")} have a vibrato: {Range(swung.ConvertAll(v => v.Rate.Value), "0.0")} swings a second, {Range(swung.ConvertAll(v => v.Extent.Value), "0")} cents to each side.";
    }

    /// <summary>A note's remarks without its vibrato where that is told together.</summary>
    public static IEnumerable<string> Others(IEnumerable<string> remarks, HeardNote note, bool together) =>
        together && note.Vibrato is { } vibrato ? remarks.Where(r => r != Of(vibrato)) : remarks;

    private static string Range(List<double> values, string format)
    {
        var (low, high) = (values.Min().ToString(format), values.Max().ToString(format));
        return low == high ? low : $"{low} to {high}";
    }
}
