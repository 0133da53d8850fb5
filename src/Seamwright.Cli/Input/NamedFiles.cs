using System.CommandLine;
using Seamwright.Core;

namespace Seamwright.Cli.Input;

/// <summary>Every file a command line names: the one place that knows whether its results have room beside its inputs and each other.</summary>
internal sealed class NamedFiles
{
    private static readonly StringComparer SameName = OperatingSystem.IsWindows() || OperatingSystem.IsMacOS() ? StringComparer.OrdinalIgnoreCase : StringComparer.Ordinal;
    private readonly List<string> read, written, folders;

    /// <param name="result">A command line without errors.</param>
    public NamedFiles(ParseResult result)
    {
        var command = result.CommandResult.Command;
        var named = command.Options.Concat<Symbol>(command.Arguments).OfType<INamedFile>().ToLookup(s => s.Use, s => s.Paths(result));
        List<string> Of(FileUse use) => [.. named[use].SelectMany(p => p)];
        (read, written, folders) = (Of(FileUse.Read), Of(FileUse.Written), Of(FileUse.Folder));
    }

    /// <summary>A sentence for each name that two results share.</summary>
    public IEnumerable<string> Shared() => written.Concat(folders).GroupBy(Place, SameName).Where(g => g.Count() > 1)
        .Select(g => $"Two results would go to {g.First()}, and one would replace the other: give each its own name.");

    /// <summary>A problem for each result that cannot be put where it shall go.</summary>
    public IEnumerable<Problem> Misplaced() => [.. Files.WouldReplace(written, [.. read]), .. written.Select(NoRoom).OfType<Problem>(), .. folders.Select(NoFolder).OfType<Problem>()];

    /// <summary>Results that are there already, and when they were written.</summary>
    public IReadOnlyDictionary<string, DateTime> Older() => written.Where(File.Exists).Distinct(SameName).ToDictionary(w => w, File.GetLastWriteTimeUtc);

    /// <summary>A note for each of them that is another one now.</summary>
    public static IEnumerable<Problem> Replaced(IReadOnlyDictionary<string, DateTime> older) =>
        older.Where(o => File.Exists(o.Key) && File.GetLastWriteTimeUtc(o.Key) != o.Value).Select(o => new Problem(o.Key, "an older file of that name was replaced.", "", Severity.Note));

    /// <summary>The one name of a file, whatever links lead to its folder.</summary>
    internal static string Place(string path)
    {
        var full = Path.GetFullPath(path);
        return Path.GetDirectoryName(full) is { } folder ? Path.Combine(Real(folder), Path.GetFileName(full)) : full;
    }

    /// <summary>Whether two paths name one file.</summary>
    internal static bool AreSame(string a, string b) => SameName.Equals(Place(a), Place(b));

    private static string Real(string folder)
    {
        if (Path.GetDirectoryName(folder) is not { } above) return folder;
        var here = Path.Combine(Real(above), Path.GetFileName(folder));
        return Directory.Exists(here) && Directory.ResolveLinkTarget(here, returnFinalTarget: true) is { } target ? target.FullName : here;
    }

    private static Problem? NoRoom(string path)
    {
        if (Directory.Exists(path)) return new(path, "cannot be written: it is a folder.", "Name a file in it.", Severity.Error);
        var folder = Path.GetDirectoryName(Path.GetFullPath(path));
        return folder is null || Directory.Exists(folder) ? null : new(path, $"cannot be written: there is no folder {folder}.", "Make it first, or check the name.", Severity.Error);
    }

    private static Problem? NoFolder(string path) =>
        File.Exists(path) ? new(path, "cannot be made: it is a file.", "Name a folder.", Severity.Error) : null;
}
