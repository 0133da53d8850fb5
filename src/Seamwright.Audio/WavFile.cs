using Seamwright.Audio.Decoding;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Audio;

/// <summary>WAV files to and from mono recordings.</summary>
/// <remarks>Container after "Multimedia Programming Interface and Data Specifications 1.0" (1991), RF64 after EBU Tech 3306 (2009),
/// WAVE_FORMAT_EXTENSIBLE after Microsoft's WAVEFORMATEXTENSIBLE. What can be read is read, and every liberty taken is told.</remarks>
public static class WavFile
{
    /// <summary>Reads PCM of 8, 16, 24 or 32 bits or float of 32 or 64 bits, 8 to 192 kHz, one or two channels.</summary>
    /// <param name="input">Read to its end; need not be seekable; not closed.</param>
    /// <param name="name">The file's name, for messages.</param>
    /// <param name="limits">Default <see cref="AudioLimits.Default"/>.</param>
    /// <returns>The samples as mono at the file's own rate, with a problem for everything odd that was met on the way;
    /// or one error that says what the file is and what to do.</returns>
    /// <remarks>Faults of the stream itself (a disk error) are not caught.</remarks>
    public static Outcome<Recording> Read(Stream input, string name, AudioLimits? limits = null)
    {
        var allowed = limits ?? AudioLimits.Default;
        if (BoundedBytes.Read(input, allowed.LargestFile) is not { } bytes)
            return Outcome<Recording>.Failed(name, $"is larger than {allowed.LargestFile >> 20} MiB.", "Cut out the passage to be heard and give that.");
        if (NotWav.Explain(bytes, name) is { } wrong) return Outcome<Recording>.Failed([wrong]);
        var problems = new List<Problem>();
        using var file = new MemoryStream(bytes, writable: false);
        var layout = WavLayout.Find(file, name, allowed, problems);
        if (layout is null) return Outcome<Recording>.Failed(problems);
        var log = new ProblemLog(name);
        log.Add(problems);
        using var stream = new SoundStream(new WavSource(file, layout), log, allowed, "WAV", file: null, CancellationToken.None);
        var recording = stream.ReadAll(allowed.MostSamples);
        return Outcome<Recording>.Of(recording, stream.Problems);
    }

    /// <summary>Writes a mono WAV file; samples beyond full scale are limited to it in the integer formats.</summary>
    /// <param name="output">Written forward only; not closed.</param>
    /// <param name="recording">At most 2 GiB of samples in the chosen format.</param>
    /// <param name="format">Default 16 bits.</param>
    /// <param name="seed">Of the dither: the same seed gives the same file.</param>
    /// <exception cref="ArgumentException">The recording is too long for a WAV file.</exception>
    public static void Write(Stream output, Recording recording, WavFormat format = WavFormat.Pcm16, uint seed = 1) =>
        WavWriter.Write(output, recording.Samples.Span, recording.Rate.Value, format, seed);
}
