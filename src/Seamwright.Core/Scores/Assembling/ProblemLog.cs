using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>A place in the music that a user can find.</summary>
/// <param name="Part">The part's name.</param>
/// <param name="Bar">Printed number; empty where the whole part is meant.</param>
/// <param name="Beat">1 for the downbeat; null where the whole bar is meant.</param>
/// <param name="Line">Of a text file, from 1; 0 for none.</param>
/// <param name="Column">In that line, from 1.</param>
internal readonly record struct Place(string Part, string Bar = "", Beats? Beat = null, int Line = 0, int Column = 0)
{
    public string InPart => Line > 0 ? $"line {Line}, column {Column}" : Bar.Length == 0 ? "" : Beat is { } b ? $"bar {Bar} beat {BeatText(b)}" : $"bar {Bar}";

    // A beat is read by people: 2.5 rather than 5/2, a fraction only where it has no short decimal form.
    private static string BeatText(Beats beat) =>
        8 % (int)System.Numerics.BigInteger.Min(beat.Denominator, 9) == 0 ? $"{beat.ToDouble():0.###}" : beat.ToString();
}

/// <summary>Collects problems and says equal ones once, with all their places.</summary>
internal sealed class ProblemLog
{
    private const int PlacesShown = 4;
    private const int KindsShown = 100;

    private readonly Dictionary<(string Part, Severity Severity, string What, string Hint), Entry> entries = [];
    private int unsaid;

    /// <summary>Adds one.</summary>
    /// <param name="severity">How far it reaches.</param>
    /// <param name="place">Where.</param>
    /// <param name="what">A sentence that fits every place of this kind.</param>
    /// <param name="hint">What to do.</param>
    /// <param name="detail">What is special here; said where the kind occurs once.</param>
    public void Add(Severity severity, Place place, string what, string hint = "", string detail = "")
    {
        var key = (place.Part, severity, what, hint);
        if (!entries.TryGetValue(key, out var entry))
        {
            if (entries.Count >= KindsShown)
            {
                unsaid++;
                return;
            }

            entries[key] = entry = new Entry(detail);
        }

        entry.Add(place.InPart);
    }

    public void Note(Place place, string what, string hint = "", string detail = "") => Add(Severity.Note, place, what, hint, detail);

    public void Warn(Place place, string what, string hint = "", string detail = "") => Add(Severity.Warning, place, what, hint, detail);

    /// <summary>One problem for each kind, in the order the kinds were met.</summary>
    public IEnumerable<Problem> Condensed()
    {
        foreach (var ((part, severity, what, hint), entry) in entries)
            yield return new Problem(entry.Where(part), entry.What(what), hint, severity);
        if (unsaid > 0) yield return new Problem("score", $"{unsaid} more problems of other kinds are not listed.");
    }

    private sealed class Entry(string detail)
    {
        private readonly List<string> places = [];
        private int count;

        public void Add(string place)
        {
            count++;
            if (place.Length > 0 && places.Count < PlacesShown && !places.Contains(place)) places.Add(place);
            else if (place.Length > 0 && places.Count >= PlacesShown) Hidden++;
        }

        private int Hidden { get; set; }

        public string What(string what)
        {
            var said = count == 1 && detail.Length > 0 ? $"{what.TrimEnd('.')}: {detail}." : what;
            return count == 1 ? said : $"{said} ({count} times)";
        }

        public string Where(string part)
        {
            if (places.Count == 0) return part;
            var more = Hidden > 0 ? $" and {Hidden} more" : "";
            return $"{part}, {string.Join(", ", places)}{more}";
        }
    }
}
