using System.Text.Json;

namespace Seamwright.Core;

/// <summary>Reads the members of one JSON object and notes every mistake with its path, instead of stopping at the first.</summary>
public sealed class JsonFields
{
    private readonly Dictionary<string, JsonElement> members = [];
    private readonly HashSet<string> asked = [];
    private readonly List<Problem> problems;

    /// <summary>Opens an object.</summary>
    /// <param name="element">An object; anything else is noted and read as empty.</param>
    /// <param name="path">Where it stands, for instance <c>$.valves[1]</c>.</param>
    /// <param name="problems">Mistakes are added here as errors.</param>
    public JsonFields(JsonElement element, string path, List<Problem> problems)
    {
        Path = path;
        this.problems = problems;
        if (element.ValueKind != JsonValueKind.Object)
        {
            Wrong(path, $"is {Describe(element)}.", "An object in braces is needed here.");
            return;
        }

        foreach (var member in element.EnumerateObject())
        {
            if (!members.TryAdd(member.Name, member.Value)) Wrong(Under(member.Name), "stands twice.", "Keep one.");
        }
    }

    public string Path { get; }

    /// <summary>Where mistakes are noted.</summary>
    public List<Problem> Problems => problems;

    /// <summary>Reads a whole document.</summary>
    /// <param name="content">At most 1 MB of UTF-8.</param>
    /// <param name="fileName">For messages.</param>
    /// <param name="problems">Mistakes are added here.</param>
    /// <returns>Null where the content is not JSON; a problem then says where.</returns>
    public static JsonDocument? Parse(Stream content, string fileName, List<Problem> problems)
    {
        const int Limit = 1 << 20;
        var bytes = new byte[Limit + 1];
        var length = content.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        if (length > Limit)
        {
            problems.Add(new Problem(fileName, "is larger than 1 MB.", "Such a file is never that large; is it the right one?", Severity.Error));
            return null;
        }

        try
        {
            return JsonDocument.Parse(bytes.AsMemory(0, length), new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        }
        catch (JsonException e)
        {
            problems.Add(new Problem($"{fileName}, line {e.LineNumber + 1}", "is not valid JSON here.", "Look for a missing comma, quote or bracket just before.", Severity.Error));
            return null;
        }
    }

    public bool Has(string name) => members.ContainsKey(name);

    /// <summary>A string, or null where it is missing (an error if required) or something else (an error).</summary>
    public string? Text(string name, bool required = false)
    {
        if (Find(name, required) is not { } e) return null;
        if (e.ValueKind == JsonValueKind.String) return e.GetString();
        Wrong(Under(name), $"is {Describe(e)}.", "Text in quotes is needed here.");
        return null;
    }

    /// <summary>A number within limits, or the fallback; outside the limits is an error.</summary>
    public double? Number(string name, double low, double high, string unit)
    {
        if (Find(name, required: false) is not { } e) return null;
        if (e.ValueKind != JsonValueKind.Number || !e.TryGetDouble(out var value))
        {
            Wrong(Under(name), $"is {Describe(e)}.", "A number is needed here.");
            return null;
        }

        if (value >= low && value <= high) return value;
        Wrong(Under(name), $"is {value}{unit}.", $"It must be {low} to {high}{unit}.");
        return null;
    }

    /// <summary>A whole number within limits, or null where it is missing; anything else is an error.</summary>
    public int? Whole(string name, int low, int high)
    {
        if (Number(name, low, high, "") is not { } value) return null;
        if (value == Math.Floor(value)) return (int)value;
        Wrong(Under(name), $"is {value}.", "A whole number is needed here.");
        return null;
    }

    /// <summary>Whether something is so, or null where it is missing; anything but true and false is an error.</summary>
    public bool? Flag(string name)
    {
        if (Find(name, required: false) is not { } e) return null;
        if (e.ValueKind is JsonValueKind.True or JsonValueKind.False) return e.GetBoolean();
        Wrong(Under(name), $"is {Describe(e)}.", "true or false is needed here.");
        return null;
    }

    /// <summary>One of some words, or null where it is missing; anything else is an error.</summary>
    public string? Choice(string name, params IReadOnlyCollection<string> words)
    {
        if (Text(name) is not { } text) return null;
        if (words.Contains(text)) return text;
        Wrong(Under(name), $"is \"{Short(text)}\".", $"It must be one of: {string.Join(", ", words)}.");
        return null;
    }

    /// <summary>A text, or the texts of a list; empty where it is missing.</summary>
    public IReadOnlyList<string> TextOrTexts(string name) =>
        members.TryGetValue(name, out var e) && e.ValueKind == JsonValueKind.String ? [Text(name)!] : Texts(name);

    /// <summary>The numbers of an array; anything else in it is an error.</summary>
    public IReadOnlyList<double> Numbers(string name)
    {
        var numbers = new List<double>();
        foreach (var (e, path) in Array(name))
        {
            if (e.ValueKind == JsonValueKind.Number && e.TryGetDouble(out var value)) numbers.Add(value);
            else Wrong(path, $"is {Describe(e)}.", "A number is needed here.");
        }

        return numbers;
    }

    /// <summary>The members of an object, or null where it is missing.</summary>
    public JsonFields? Object(string name) => Find(name, required: false) is { } e ? new JsonFields(e, Under(name), problems) : null;

    /// <summary>The elements of an array with their paths; empty where it is missing.</summary>
    public IEnumerable<(JsonElement Element, string Path)> Array(string name)
    {
        if (Find(name, required: false) is not { } e) return [];
        if (e.ValueKind == JsonValueKind.Array) return [.. e.EnumerateArray().Select((x, i) => (x, $"{Under(name)}[{i}]"))];
        Wrong(Under(name), $"is {Describe(e)}.", "A list in square brackets is needed here.");
        return [];
    }

    /// <summary>The texts of an array; anything else in it is an error.</summary>
    public IReadOnlyList<string> Texts(string name)
    {
        var texts = new List<string>();
        foreach (var (e, path) in Array(name))
        {
            if (e.ValueKind == JsonValueKind.String) texts.Add(e.GetString()!);
            else Wrong(path, $"is {Describe(e)}.", "Text in quotes is needed here.");
        }

        return texts;
    }

    /// <summary>All members, for an object whose keys are data.</summary>
    public IEnumerable<(string Name, JsonElement Value, string Path)> Members() => [.. members.Select(m => (m.Key, m.Value, Under(m.Key)))];

    /// <summary>Notes an error at this object or one of its members.</summary>
    public void Wrong(string path, string what, string hint) => problems.Add(new Problem(path, what, hint, Severity.Error));

    /// <summary>The path of a member.</summary>
    public string Under(string name) => $"{Path}.{name}";

    /// <summary>Notes every member that nothing asked for: mostly a misspelt name.</summary>
    public void RejectUnknown()
    {
        foreach (var name in members.Keys.Where(n => !asked.Contains(n)))
            Wrong(Under(name), "is not a known field.", $"Known here: {string.Join(", ", asked.Order())}.");
    }

    private JsonElement? Find(string name, bool required)
    {
        asked.Add(name);
        if (members.TryGetValue(name, out var e) && e.ValueKind != JsonValueKind.Null) return e;
        if (required) Wrong(Under(name), "is missing.", "It is needed.");
        return null;
    }

    private static string Describe(JsonElement e) => e.ValueKind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        JsonValueKind.String => $"the text \"{Short(e.GetString() ?? "")}\"",
        _ => Short(e.GetRawText()),
    };

    private static string Short(string s) => s.Length <= 40 ? s : s[..40] + "…";
}
