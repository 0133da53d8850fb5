namespace Seamwright.Audio.Writing;

/// <summary>Why a file cannot be written, in the words that the user is told.</summary>
/// <param name="what">What happened.</param>
/// <param name="hint">What to do next.</param>
internal sealed class WritingFault(string what, string hint) : Exception(what)
{
    private const string Emptier = "Make room on it, or name a file on another disk.";

    // POSIX ENOSPC, EDQUOT (Linux) and EFBIG; Windows' ERROR_DISK_FULL and ERROR_HANDLE_DISK_FULL.
    private static readonly int[] Full = [28, 122, 27, unchecked((int)0x80070070), unchecked((int)0x80070027)];

    public string Hint { get; } = hint;

    public static WritingFault OfFullDisk(string? detail = null) => new($"was not written: the disk is full{detail}.", Emptier);

    /// <summary>What the system says about a file, in our words.</summary>
    public static WritingFault Of(Exception fault) => fault switch
    {
        WritingFault known => known,
        DirectoryNotFoundException => new("cannot be written: its folder does not exist.", "Make the folder, or name another one."),
        UnauthorizedAccessException => new("cannot be written: you may not write there.", "Name a folder that you may write to."),
        FileNotFoundException => new("cannot be written: nothing can be put into its folder.", "Name another folder."),
        IOException io when Array.IndexOf(Full, io.HResult) >= 0 => OfFullDisk(),
        _ => new($"was not written: {fault.Message}", "Check the disk, or name another folder."),
    };
}
