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
        var read = inputs.Where(File.Exists).ToList();
        return results.OfType<string>().Where(r => read.Exists(i => NamedFiles.AreSame(i, r)))
            .Select(r => new Problem(r, "is the file that was read; it is not replaced.", "Name another file for the result.", Severity.Error));
    }

    /// <summary>Writes a file whole or not at all: an older one of that name stays until the new one is complete.</summary>
    /// <param name="path">In a folder that is there.</param>
    /// <param name="writer">Fills it.</param>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public static void Write(string path, Action<Stream> writer)
    {
        using var file = UnfinishedFile.Write(path, writer);
        file.Place();
    }

    /// <summary>Makes a folder for results where it is missing.</summary>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public static void MakeFolder(string path)
    {
        try
        {
            Directory.CreateDirectory(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CannotWriteException(path, Reason(e, path, path));
        }
    }

    /// <summary>What the system says about a file, in our words; the unfinished file's name is nobody's business.</summary>
    internal static string Reason(Exception e, string full, string unfinished) => e switch
    {
        UnauthorizedAccessException when Directory.Exists(full) => "it is a folder.",
        UnauthorizedAccessException => "you may not write there.",
        DirectoryNotFoundException or FileNotFoundException when Directory.Exists(Path.GetDirectoryName(full)) => $"nothing can be put into {Path.GetDirectoryName(full)}.",
        DirectoryNotFoundException => $"there is no folder {Path.GetDirectoryName(full)}.",
        _ => e.Message.Replace(unfinished, full, StringComparison.Ordinal),
    };
}

/// <summary>A result that could not be put where the user wants it.</summary>
internal sealed class CannotWriteException(string path, string reason) : Exception($"{path} cannot be written: {reason.TrimEnd('.')}.");
