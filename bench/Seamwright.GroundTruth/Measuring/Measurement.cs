using System.Collections.Immutable;
using System.Text.Json;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>All takes of a folder, heard and scored.</summary>
internal static class Measurement
{
    private static readonly JsonSerializerOptions Options = new() { WriteIndented = true, NewLine = "\n", PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    /// <summary>Scores every take, in order of name; the first is heard once more before, to have the code compiled.</summary>
    public static ImmutableArray<TakeScore> Of(string folder, Func<TruthFile, bool>? wanted = null)
    {
        var truths = Truths(folder).Where(wanted ?? (_ => true)).ToList();
        foreach (var truth in truths.Take(3)) TakeJudge.Judge(folder, truth);
        return [.. truths.Select(t => TakeJudge.Judge(folder, t))];
    }

    /// <summary>The same for several folders, as one: a single seed has few faults of each kind.</summary>
    public static ImmutableArray<TakeScore> Of(IEnumerable<string> folders) => [.. folders.SelectMany(f => Of(f))];

    /// <exception cref="InvalidDataException">The folder holds no takes.</exception>
    public static IReadOnlyList<TruthFile> Truths(string folder)
    {
        var files = Directory.Exists(folder) ? Directory.GetFiles(folder, "*.json").Order(StringComparer.Ordinal).ToList() : [];
        return files.Count > 0 ? [.. files.Select(TruthFile.Read)] : throw new InvalidDataException($"There are no takes in {folder}: run make -o {folder} first.");
    }

    /// <summary>Every table: by condition, and by source for clean takes and those at 30 dB.</summary>
    public static void Print(IReadOnlyList<TakeScore> takes, TextWriter output)
    {
        foreach (var (title, columns) in Conditions.Tables)
        {
            var pools = columns.Select(c => (c.Name, Pool: new Pool([.. takes.Where(t => c.Conditions.Contains(t.Condition))]))).Where(c => c.Pool.Takes.Count > 0).ToList();
            if (pools.Count > 0) GoalTable.Print(title, pools, output);
        }

        var main = takes.Where(t => t.Condition is "clean" or "noise30").ToList();
        var bySource = main.GroupBy(t => t.Source).OrderByDescending(g => g.Key, StringComparer.Ordinal).Select(g => (g.Key, new Pool([.. g])));
        GoalTable.Print("By source, clean and at 30 dB", [("all", new Pool(main)), .. bySource], output);
    }

    public static void WriteJson(IReadOnlyList<TakeScore> takes, string path) => File.WriteAllText(path, JsonSerializer.Serialize(takes, Options) + "\n");
}
