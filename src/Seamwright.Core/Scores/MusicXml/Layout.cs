using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>One measure of one part, partwise or timewise alike.</summary>
internal sealed record MeasureSource(string Number, bool Implicit, IReadOnlyList<Element> Content);

/// <summary>One part of a file, its measures in order.</summary>
internal sealed record PartSource(string Id, string Name, IReadOnlyList<MeasureSource> Measures);

/// <summary>Brings both layouts of MusicXML, by part and by time, into one: parts of measures.</summary>
internal static class Layout
{
    public static List<PartSource> Parts(Element root, ReadLimits limits, ProblemLog log)
    {
        var names = Names(root);
        var measures = root.Name == "score-partwise" ? Partwise(root) : Timewise(root);
        var parts = new List<PartSource>();
        foreach (var (id, list) in measures)
        {
            if (parts.Count >= limits.MostParts) throw new LimitException($"holds more than {limits.MostParts} parts.");
            if (list.Count > limits.MostBars) throw new LimitException($"holds more than {limits.MostBars} bars in one part.");
            var name = names.GetValueOrDefault(id, "");
            parts.Add(new PartSource(id, name.Length > 0 ? name : id, list));
            if (list.Count == 0) log.Warn(new Place(name.Length > 0 ? name : id), "The part has no bars and is left out.");
        }

        if (parts.Sum(p => p.Measures.Count) > limits.MostBarsInAll) throw new LimitException($"holds more than {limits.MostBarsInAll} bars in all its parts.");
        parts.RemoveAll(p => p.Measures.Count == 0);
        foreach (var listed in names.Keys.Where(id => measures.All(m => m.Id != id)))
            log.Note(new Place(names[listed]), "The part is listed but has no music.");
        return parts;
    }

    private static Dictionary<string, string> Names(Element root)
    {
        var names = new Dictionary<string, string>();
        foreach (var part in root.Child("part-list")?.All("score-part") ?? [])
        {
            if (part.Attribute("id") is not { } id) continue;
            names[id] = new[] { part.TextOf("part-name"), part.Child("score-instrument")?.TextOf("instrument-name"), part.TextOf("part-abbreviation"), id }
                .Select(Header.Words).First(n => n.Length > 0 || id.Length == 0);
        }

        return names;
    }

    private static List<(string Id, List<MeasureSource> Measures)> Partwise(Element root)
    {
        var parts = new List<(string, List<MeasureSource>)>();
        var taken = new HashSet<string>();
        foreach (var part in root.All("part"))
            parts.Add((Unique(taken, PartId(part, parts.Count)), [.. part.All("measure").Select(m => Measure(m, m.Children))]));
        return parts;
    }

    private static List<(string Id, List<MeasureSource> Measures)> Timewise(Element root)
    {
        var parts = new List<(string Id, List<MeasureSource> Measures)>();
        var places = new Dictionary<string, int>();
        foreach (var measure in root.All("measure"))
        {
            foreach (var part in measure.All("part"))
            {
                var id = PartId(part, places.Count);
                if (places.TryAdd(id, parts.Count)) parts.Add((id, []));
                parts[places[id]].Measures.Add(Measure(measure, part.Children));
            }
        }

        return parts;
    }

    private static MeasureSource Measure(Element measure, IReadOnlyList<Element> content) =>
        new(Header.Words(measure.Attribute("number")), measure.Says("implicit", "yes"), content);

    private static string PartId(Element part, int count) => Header.Words(part.Attribute("id")) is { Length: > 0 } id ? id : $"P{count + 1}";

    private static string Unique(HashSet<string> taken, string id)
    {
        var unique = id;
        for (var n = 2; !taken.Add(unique); n++) unique = $"{id}-{n}";
        return unique;
    }
}
