using Seamwright.Core;

namespace Seamwright.Cli.Input;

/// <summary>Files from and to the disk, with messages instead of exceptions.</summary>
internal static class Files
{
    /// <summary>Opens a file and reads it with a reader of the core.</summary>
    public static Outcome<T> Read<T>(string path, Func<Stream, string, Outcome<T>> reader)
        where T : class
    {
        if (Directory.Exists(path)) return Outcome<T>.Failed(path, "is a folder.", "Name a file in it.");
        if (!File.Exists(path)) return Outcome<T>.Failed(path, "there is no such file.", "Check the name and the folder you are in.");
        try
        {
            using var stream = File.OpenRead(path);
            return reader(stream, Path.GetFileName(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Outcome<T>.Failed(path, $"cannot be read: {e.Message}", "Check that you may open it and that nothing else holds it.");
        }
    }

    /// <summary>A problem for each result that would replace one of the files that were read.</summary>
    public static IEnumerable<Problem> WouldReplace(IEnumerable<string?> results, params string[] inputs)
    {
        var read = inputs.Select(Path.GetFullPath).ToHashSet(StringComparer.Ordinal);
        return results.Where(r => r is not null && read.Contains(Path.GetFullPath(r)))
            .Select(r => new Problem(r!, "is the file that was read; it is not replaced.", "Name another file for the result.", Severity.Error));
    }

    /// <summary>Writes a file whole or not at all: an older one of that name stays until the new one is complete.</summary>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public static void Write(string path, Action<Stream> writer)
    {
        try
        {
            var full = Path.GetFullPath(path);
            Directory.CreateDirectory(Path.GetDirectoryName(full)!);
            var part = full + ".part";
            using (var stream = File.Create(part)) writer(stream);
            File.Move(part, full, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CannotWriteException(path, e);
        }
    }
}

/// <summary>A result that could not be put where the user wants it.</summary>
internal sealed class CannotWriteException(string path, Exception cause) : Exception($"{path} cannot be written: {cause.Message.TrimEnd('.')}.", cause);
