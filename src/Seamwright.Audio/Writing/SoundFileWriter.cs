using Seamwright.Audio.External;
using Seamwright.Core;
using Seamwright.Core.Sound;

namespace Seamwright.Audio.Writing;

/// <summary>Writes sound files of the common kinds, told by the file name's ending.</summary>
/// <remarks>WAV and Opus are written within the program; FLAC and MP3 by the program ffmpeg, where it is installed. The file is
/// written beside its place under its name with <c>.part</c> behind, and moved there when it is whole: never half a file.</remarks>
public static class SoundFileWriter
{
    /// <summary>The endings that are known, for help texts.</summary>
    public const string Endings = ".wav, .flac, .opus or .mp3";

    /// <summary>Whether what a player hears of a file of this name is only like what was written.</summary>
    public static bool IsLossy(string path) => KindOf(path) is SoundKind.Opus or SoundKind.Mp3;

    /// <summary>What would keep a file of this name from being written, before any work is put into it: an unknown ending, a folder
    /// that is missing, ffmpeg missing. Empty where nothing is known to.</summary>
    public static IReadOnlyList<Problem> Check(string path, WritingOptions? options = null)
    {
        var used = options ?? WritingOptions.Default;
        var problems = new List<Problem>();
        var kind = KindOf(path);
        if (kind == SoundKind.Unknown)
        {
            var ending = Path.GetExtension(path);
            problems.Add(Wrong(path, ending.Length > 1 ? $"ends in {ending}, which is no kind of sound file that is written." : "has no ending that says its kind.", $"Let it end in {Endings}."));
        }

        if (Directory.Exists(path)) problems.Add(Wrong(path, "is a folder.", "Name a file in it."));
        else if (!Directory.Exists(FolderOf(path))) problems.Add(Wrong(path, "cannot be written: its folder does not exist.", "Make the folder, or name another one."));
        if (kind is SoundKind.Flac or SoundKind.Mp3 && FfmpegFinder.Find(used.Ffmpeg) is null)
            problems.Add(Wrong(path, $"is {SoundKinds.Name(kind)}, which takes the program ffmpeg to write, and that was not found.", "Install ffmpeg so that it lies on the path (most systems carry it as a package of that name), or name a .wav or .opus file."));
        if (kind == SoundKind.Flac && used.Samples == WavFormat.Float32)
            problems.Add(Wrong(path, "is FLAC, which holds no floats.", "Ask for 16 or 24 bits, or name a .wav file."));
        return problems;
    }

    /// <summary>Writes the sound from its beginning to its end; a file of that name is replaced.</summary>
    /// <param name="path">Its ending, in capitals or not, says the kind: <see cref="Endings"/>.</param>
    /// <param name="sound">Restarted, then pulled in blocks. Samples beyond ±1 are limited to it in WAV and FLAC of integers. Opus
    /// is written at 48 kHz, MP3 at a rate of its standard that is no lower (48 or 44.1 kHz at most).</param>
    /// <param name="tags">Default none.</param>
    /// <param name="options">Default <see cref="WritingOptions.Default"/>.</param>
    /// <param name="cancel">Ends it with an <see cref="OperationCanceledException"/>; nothing stays behind.</param>
    /// <returns>What was written; or why there is no file, and what to do.</returns>
    /// <exception cref="ArgumentException">An option or a tag is out of range.</exception>
    public static Outcome<WrittenSound> Write(string path, SoundFeed sound, SoundTags? tags = null, WritingOptions? options = null, CancellationToken cancel = default) =>
        Write(path, sound, tags ?? SoundTags.None, options ?? WritingOptions.Default, CreateFile, cancel);

    // create makes the file that stands for the path until it is whole.
    internal static Outcome<WrittenSound> Write(string path, SoundFeed sound, SoundTags tags, WritingOptions options, Func<string, Stream> create, CancellationToken cancel)
    {
        options.Check();
        tags.Check();
        var problems = Check(path, options);
        if (problems.Count > 0) return Outcome<WrittenSound>.Failed(problems);
        try
        {
            return Outcome<WrittenSound>.Of(new FileWriting(Path.GetFullPath(path), KindOf(path), sound, tags, options, create, cancel).Run());
        }
        catch (Exception e) when (e is WritingFault or IOException or UnauthorizedAccessException)
        {
            var fault = WritingFault.Of(e);
            return Outcome<WrittenSound>.Failed(path, fault.Message, fault.Hint);
        }
    }

    // Without a buffer of its own: what could not be written must not be tried again when it is closed.
    private static FileStream CreateFile(string path) => new(path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Read, 0);

    private static string FolderOf(string path) => Path.GetDirectoryName(Path.GetFullPath(path)) ?? path;

    private static Problem Wrong(string path, string what, string hint) => new(path, what, hint, Severity.Error);

    private static SoundKind KindOf(string path) => Path.GetExtension(path).ToUpperInvariant() switch
    {
        ".WAV" => SoundKind.Wav,
        ".FLAC" => SoundKind.Flac,
        ".OPUS" => SoundKind.Opus,
        ".MP3" => SoundKind.Mp3,
        _ => SoundKind.Unknown,
    };
}
