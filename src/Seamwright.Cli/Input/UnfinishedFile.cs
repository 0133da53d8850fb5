namespace Seamwright.Cli.Input;

/// <summary>A file that is written whole beside its place and stands there under a name of its own until it is put in.</summary>
internal sealed class UnfinishedFile : IDisposable
{
    private readonly string path, full, unfinished;

    private UnfinishedFile(string path) =>
        (this.path, full, unfinished) = (path, Path.GetFullPath(path), $"{Path.GetFullPath(path)}.{Environment.ProcessId}.part");

    /// <summary>Writes it; nothing of that name is touched yet.</summary>
    /// <param name="path">In a folder that is there.</param>
    /// <param name="writer">Fills it.</param>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public static UnfinishedFile Write(string path, Action<Stream> writer)
    {
        var file = new UnfinishedFile(path);
        try
        {
            file.Guarded(() =>
            {
                using var stream = File.Create(file.unfinished);
                writer(stream);
            });
            return file;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>Puts it in its place; an older file of that name is replaced.</summary>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public void Place() => Guarded(() => File.Move(unfinished, full, overwrite: true));

    /// <summary>Removes it where it was not put in its place.</summary>
    public void Dispose()
    {
        // A folder that lets nothing be made in it lets nothing be deleted either.
        if (File.Exists(unfinished)) File.Delete(unfinished);
    }

    private void Guarded(Action act)
    {
        try
        {
            act();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new CannotWriteException(path, Files.Reason(e, full, unfinished));
        }
    }
}
