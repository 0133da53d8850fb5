namespace Seamwright.Studio.Store;

/// <summary>Holds a data folder for one workbench at a time: a second one would take the first one's recordings for cut off.</summary>
internal sealed class DataLock : IDisposable
{
    private readonly FileStream file;

    private DataLock(FileStream file) => this.file = file;

    /// <summary>Takes the folder, until it is disposed or the process ends.</summary>
    /// <param name="folder">Made where it is missing.</param>
    /// <exception cref="IOException">Another workbench has it, or it cannot be made or written.</exception>
    public static DataLock Take(string folder)
    {
        Directory.CreateDirectory(folder);
        try
        {
            return new(new FileStream(Path.Combine(folder, "workbench.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
        }
        catch (IOException e) when (File.Exists(Path.Combine(folder, "workbench.lock")))
        {
            throw new IOException($"A workbench is already open on {folder}. Use that one, or name another folder with --data.", e);
        }
    }

    public void Dispose() => file.Dispose();
}
