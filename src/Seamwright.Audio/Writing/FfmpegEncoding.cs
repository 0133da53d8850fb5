using System.Globalization;

namespace Seamwright.Audio.Writing;

/// <summary>What ffmpeg is told about a file that it shall write.</summary>
/// <param name="Name">Of the kind, for messages.</param>
/// <param name="Rate">Of the samples, Hz.</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="Samples">How they are handed over.</param>
/// <param name="Seed">Of their dither.</param>
/// <param name="Coder">Its name for the encoder and the container, and what else belongs to them.</param>
/// <param name="Patience">How long it may take nothing from us.</param>
internal sealed record FfmpegEncoding(string Name, int Rate, int Channels, WavFormat Samples, uint Seed, IReadOnlyList<string> Coder, TimeSpan Patience)
{
    /// <summary>FLAC (RFC 9639) of 16 or 24 bits.</summary>
    public static FfmpegEncoding Flac(int rate, int channels, WritingOptions options, SoundTags tags) => new(
        "FLAC", rate, channels, options.Samples, options.Seed,
        [
            "-c:a", "flac", "-sample_fmt", options.Samples == WavFormat.Pcm24 ? "s32" : "s16",
            .. TagTexts.VorbisComments(tags).SelectMany(t => (string[])["-metadata", $"{t.Name}={t.Text}"]), "-f", "flac",
        ],
        TimeSpan.FromSeconds(options.StallSeconds));

    /// <summary>MP3 without tags.</summary>
    public static FfmpegEncoding Mp3(int rate, int channels, WritingOptions options)
    {
        var coded = Mp3Rates.Nearest(rate);

        // The encoder makes a sound softer where it is held to few bits (0.45 dB at 128 kbit/s), but not where it is told a quality.
        string[] bits = options.Mp3Kilobits is { } kilobits ? ["-b:a", Text(Mp3Rates.Possible(coded, kilobits)) + "k"] : ["-q:a", "2"];
        return new("MP3", rate, channels, WavFormat.Float32, options.Seed,
            [
                "-c:a", "libmp3lame", "-ar", Text(coded), .. bits,
                "-id3v2_version", "0", "-write_id3v1", "0", "-write_xing", "1", "-f", "mp3",
            ],
            TimeSpan.FromSeconds(options.StallSeconds));
    }

    public IEnumerable<string> Arguments(string path) =>
    [
        "-hide_banner", "-nostdin", "-loglevel", "error", "-max_alloc", "268435456", "-protocol_whitelist", "file,pipe",
        "-f", Samples switch { WavFormat.Pcm16 => "s16le", WavFormat.Pcm24 => "s24le", _ => "f32le" },
        "-ar", Text(Rate), "-ac", Text(Channels), "-i", "pipe:0", "-map_metadata", "-1", "-threads", "1", .. Coder, "-y", "file:" + path,
    ];

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}
