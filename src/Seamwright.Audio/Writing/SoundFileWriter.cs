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

    /// <summary>What would keep a file of this name from being written, before any work is put into it: an unknown ending, a folder
    /// that is missing, ffmpeg missing. Empty where nothing would.</summary>
    public static IReadOnlyList<Problem> Check(string path, WritingOptions? options = null) => throw new NotImplementedException();

    /// <summary>Writes the sound from its beginning to its end; a file of that name is replaced.</summary>
    /// <param name="path">Its ending, in capitals or not, says the kind: <see cref="Endings"/>.</param>
    /// <param name="sound">Restarted, then pulled in blocks. Samples beyond ±1 are limited to it in WAV and FLAC of integers.</param>
    /// <param name="tags">Default none.</param>
    /// <param name="options">Default <see cref="WritingOptions.Default"/>.</param>
    /// <param name="cancel">Ends it with an <see cref="OperationCanceledException"/>; nothing stays behind.</param>
    /// <returns>What was written; or why there is no file, and what to do.</returns>
    /// <exception cref="ArgumentException">An option is out of range.</exception>
    public static Outcome<WrittenSound> Write(string path, SoundFeed sound, SoundTags? tags = null, WritingOptions? options = null, CancellationToken cancel = default) =>
        throw new NotImplementedException();
}
