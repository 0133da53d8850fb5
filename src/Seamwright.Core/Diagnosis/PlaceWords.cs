using System.Globalization;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>Several places of a line named together; beyond the first few they are counted.</summary>
internal static class PlaceWords
{
    /// <summary><c>bars 3, 4, 6, 16 and 5 more</c>; times where no part is known.</summary>
    /// <param name="plan">What was asked.</param>
    /// <param name="notes">Places in the line, in the order to be named.</param>
    /// <param name="most">Of bars that are named.</param>
    /// <param name="spokenOf">A note whose bar is always named; null for none.</param>
    public static string Bars(Plan plan, IEnumerable<int> notes, int most, int? spokenOf = null)
    {
        string Name(int note) => plan.Line.FromRecording ? Attempts.Clock(plan.Notes[note].Note.StartTime.Value) : plan.Notes[note].Note.Bar;
        var all = notes.Select(Name).Distinct().ToList();
        var named = all.Take(most).ToList();
        if (spokenOf is { } note && all.Contains(Name(note)) && !named.Contains(Name(note))) named[^1] = Name(note);
        return $"{Lead(plan, all.Count)} {Listed(named, all.Count - named.Count)}";
    }

    /// <summary><c>bar 3, beats 1 and 2½; bar 4, beat 1 (2nd time); and 12 more</c>; times where no part is known.</summary>
    /// <param name="plan">What was asked.</param>
    /// <param name="notes">Places in the line, in the order to be named.</param>
    /// <param name="most">Of places that are named.</param>
    public static string Beats(Plan plan, IReadOnlyCollection<int> notes, int most)
    {
        var named = notes.Take(notes.Count <= most + 1 ? notes.Count : most).Select(n => plan.Notes[n].Note).ToList();
        var more = notes.Count - named.Count;
        if (plan.Line.FromRecording) return $"at {Listed([.. named.Select(n => Attempts.Clock(n.StartTime.Value))], more)}";
        var bars = named.GroupBy(n => (n.Bar, n.Pass)).Select(g => $"bar {g.Key.Bar}, {Beats([.. g])}{TakeParts.PassWords(g.Key.Pass)}").ToList();
        if (more > 0) bars.Add(string.Create(CultureInfo.InvariantCulture, $"and {more} more"));
        return string.Join("; ", bars);
    }

    private static string Beats(List<PlayedNote> notes) => $"{(notes.Count == 1 ? "beat" : "beats")} {Listed([.. notes.Select(n => TakeParts.BeatWords(n.Beat))], 0)}";

    private static string Lead(Plan plan, int count) => plan.Line.FromRecording ? "at" : count == 1 ? "bar" : "bars";

    private static string Listed(List<string> names, int more) => (names.Count, more) switch
    {
        (1, 0) => names[0],
        (_, 0) => $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}",
        _ => $"{string.Join(", ", names)} and {more} more",
    };
}
