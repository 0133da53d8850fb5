using System.ComponentModel;
using System.Globalization;
using System.Text.RegularExpressions;
using Seamwright.Audio.External;
using Seamwright.Core;
using Seamwright.Film.Screen;

namespace Seamwright.Film.Encoding;

/// <summary>What the encoder works with.</summary>
/// <param name="Sound">A WAV file.</param>
/// <param name="Target">Written over.</param>
/// <param name="Title">For the film's own label; may be empty.</param>
internal sealed record EncoderInput(string Sound, string Target, string Title);

/// <summary>Turns frames into a film by the program ffmpeg.</summary>
internal sealed partial class FilmEncoder : IDisposable
{
    private readonly FfmpegRun run;
    private readonly TimeSpan patience;
    private bool broken;

    private FilmEncoder(FfmpegRun run, TimeSpan patience) => (this.run, this.patience) = (run, patience);

    /// <summary>Starts it.</summary>
    /// <returns>Null where it cannot be run: then there is a problem.</returns>
    public static FilmEncoder? Start(string program, EncoderInput what, FilmLimits limits, CancellationToken cancel, out Problem? refused)
    {
        try
        {
            refused = null;
            var patience = TimeSpan.FromSeconds(limits.Patience.Value);
            return new FilmEncoder(FfmpegRun.Start(program, Arguments(what), patience, cancel, isFed: true), patience);
        }
        catch (Win32Exception e)
        {
            refused = new Problem("ffmpeg", $"was not made: ffmpeg cannot be started ({program}): {e.Message}.", "Check that it can be run by itself.", Severity.Error);
            return null;
        }
    }

    /// <summary>Hands over one frame.</summary>
    /// <returns>False where it takes no more: <see cref="Finish"/> then says why.</returns>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public bool Write(byte[] frame) => !(broken |= !run.Feed(frame));

    /// <summary>Waits for its end.</summary>
    /// <param name="cancel">The one it was started with.</param>
    /// <returns>What went wrong; null where the film is whole.</returns>
    /// <exception cref="OperationCanceledException">It was cancelled.</exception>
    public Problem? Finish(CancellationToken cancel)
    {
        run.EndFeeding();
        var (code, said) = run.Finish();
        cancel.ThrowIfCancellationRequested();
        return code == 0 && !broken && !run.Stalled ? null : Explain(code, said);
    }

    public void Dispose() => run.Dispose();

    // Almost every dot of a frame is as it was: what searches for motion, scenes and a better order of pictures finds nothing and
    // takes half the time. Pale colours on paper are kept finer than usual, or they turn pink and green.
    private static IEnumerable<string> Arguments(EncoderInput what) =>
    [
        "-hide_banner", "-nostats", "-loglevel", "error", "-y", "-protocol_whitelist", "file,pipe",
        "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", $"{ScreenLayout.Width}x{ScreenLayout.Height}", "-r", Number(ScreenLayout.FramesPerSecond), "-i", "pipe:0",
        "-f", "wav", "-i", "file:" + what.Sound,
        "-map", "0:v:0", "-map", "1:a:0", "-map_metadata", "-1", "-metadata", "title=" + what.Title,
        "-c:v", "libx264", "-preset", "superfast", "-tune", "stillimage", "-bf", "0", "-crf", "20", "-x264-params", "scenecut=0:rc-lookahead=0:mbtree=0:chroma-qp-offset=-6", "-g", Number(5 * ScreenLayout.FramesPerSecond), "-pix_fmt", "yuv420p",
        "-color_range", "tv", "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709",
        "-c:a", "aac", "-b:a", "160k", "-movflags", "+faststart", "-f", "mp4", "file:" + what.Target,
    ];

    private static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    private Problem Explain(int code, string text)
    {
        if (UnknownEncoder().Match(text) is { Success: true } missing)
            return new("ffmpeg", $"was not made: this ffmpeg has no encoder '{missing.Groups[1].Value}'.", "Install a build with libx264 and aac; 'ffmpeg -encoders' lists what one has.", Severity.Error);
        if (run.Stalled) return new("ffmpeg", $"was not made: ffmpeg took nothing more for {patience.TotalSeconds:0} s and was ended.", "Try again when the machine is less busy.", Severity.Error);
        var line = text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).FirstOrDefault() ?? "";
        if (line.Length > 160) line = line[..160] + "…";
        var quoted = line.Length == 0 ? "" : $", saying \"{new string([.. line.Where(c => !char.IsControl(c))])}\"";
        return new("ffmpeg", $"was not made: ffmpeg ended with exit code {code}{quoted}.", "See that there is room on the disk and that ffmpeg works by itself, then try again.", Severity.Error);
    }

    [GeneratedRegex("Unknown encoder '([^']+)'")]
    private static partial Regex UnknownEncoder();
}
