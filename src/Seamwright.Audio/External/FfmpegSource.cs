using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Seamwright.Audio.Decoding;
using Seamwright.Core;

namespace Seamwright.Audio.External;

/// <summary>The first sound track of a file, decoded by the program ffmpeg and read from its output.</summary>
/// <remarks>It hands the samples over as an AU stream of 32-bit floats, whose header of 24 bytes says rate and channels. It is told
/// what the container is and may open nothing but this file.</remarks>
internal sealed class FfmpegSource : SampleSource
{
    private const int HeaderLength = 24, Float32 = 6;

    private readonly FfmpegRun run;
    private readonly ProblemLog log;
    private readonly double? promised;
    private long frames;
    private readonly bool isWholeInside;
    private bool ended, isDamaged;

    private FfmpegSource(FfmpegRun run, int channels, int rate, double? promised, ProblemLog log, bool isWholeInside) =>
        (this.run, Channels, Rate, this.promised, this.log, this.isWholeInside) = (run, channels, rate, promised, log, isWholeInside);

    public override int Channels { get; }

    public override int Rate { get; }

    /// <summary>Starts the program, or says why there is no sound.</summary>
    /// <param name="program">Where it lies.</param>
    /// <param name="path">The file.</param>
    /// <param name="container">The program's name for the container.</param>
    /// <param name="promised">How long the file says it is, in seconds; null where it does not.</param>
    /// <param name="limits">For time and size.</param>
    /// <param name="log">What is odd.</param>
    /// <param name="cancel">Ends the program.</param>
    /// <param name="isWholeInside">Whether nothing can be missing before the end: what the program complains of is the end then.</param>
    public static FfmpegSource? Open(string program, string path, string container, double? promised, AudioLimits limits, ProblemLog log, CancellationToken cancel, bool isWholeInside = false)
    {
        FfmpegRun run;
        try
        {
            run = FfmpegRun.Start(program, Arguments(path, container, limits), TimeSpan.FromSeconds(limits.StallSeconds), cancel);
        }
        catch (System.ComponentModel.Win32Exception e)
        {
            log.Refuse($"needs the program ffmpeg, which cannot be started ({program}): {e.Message}", "Check that it can be run by itself.");
            return null;
        }

        try
        {
            if (Begin(run, promised, limits, log, isWholeInside) is { } source) return source;
        }
        catch
        {
            run.Dispose();
            throw;
        }

        run.Dispose();
        return null;
    }

    public override bool MayLoseSomewhere => true;

    public override bool IsLostSomewhere => isDamaged;

    public override int Read(Span<float> interleaved)
    {
        if (ended) return 0;
        var whole = interleaved[..(interleaved.Length / Channels * Channels)];
        var bytes = MemoryMarshal.AsBytes(whole);
        var read = run.Read(bytes) / (4 * Channels) * Channels;
        var words = MemoryMarshal.Cast<byte, uint>(bytes)[..read];
        if (BitConverter.IsLittleEndian) BinaryPrimitives.ReverseEndianness(words, words);
        frames += read / Channels;
        if (read < whole.Length) End();
        return read;
    }

    public override void Dispose()
    {
        run.Dispose();
        base.Dispose();
    }

    // The end may be there, and what is missing lie inside.
    private const string Unplaced = "What was read is used. Where sound is missing is not known: if it is inside, times after it are early, and what is quite silent inside the music is not judged.";

    private static string[] Arguments(string path, string container, AudioLimits limits) =>
    [
        "-hide_banner", "-nostdin", "-loglevel", "error", "-max_alloc", "268435456",
        "-protocol_whitelist", "file,pipe", "-f", container, "-i", "file:" + Path.GetFullPath(path),
        "-map", "0:a:0", "-vn", "-sn", "-dn", "-map_metadata", "-1", "-threads", "1",
        "-t", FormattableString.Invariant($"{(limits.LongestHours * 3600) + 1:0}"), "-c:a", "pcm_f32be", "-f", "au", "pipe:1",
    ];

    private static FfmpegSource? Begin(FfmpegRun run, double? promised, AudioLimits limits, ProblemLog log, bool isWholeInside)
    {
        var header = new byte[HeaderLength];
        if (run.Read(header) < HeaderLength || !header.AsSpan().StartsWith(".snd"u8) || Field(header, 3) != Float32)
        {
            Explain(run, log);
            return null;
        }

        // Some writers put a remark between the header and the sound.
        var more = Math.Min(Field(header, 1), 4096) - HeaderLength;
        if (more > 0) run.Read(new byte[more]);
        var (rate, channels) = (Field(header, 4), Field(header, 5));
        if (channels is not (1 or 2)) log.Refuse($"has {channels} channels.", "Give one microphone (mono) or two (stereo).");
        if (rate < limits.LowestRate || rate > limits.HighestRate) log.Refuse($"has a sample rate of {rate} Hz.", $"Rates from {limits.LowestRate} to {limits.HighestRate} Hz are read; 44100 or 48000 serve best.");
        return log.All.Any(p => p.Severity == Severity.Error) ? null : new FfmpegSource(run, (int)channels, (int)rate, promised, log, isWholeInside);
    }

    private static long Field(byte[] header, int index) => BinaryPrimitives.ReadUInt32BigEndian(header.AsSpan(4 * index));

    private static void Explain(FfmpegRun run, ProblemLog log)
    {
        var (_, said) = run.Finish();
        if (run.Stalled) log.Refuse("gave no sound in time.", "Copy the file to this machine's own disk, or save it as WAV.");
        else if (said.Contains("matches no streams", StringComparison.Ordinal)) log.Refuse("holds no sound.", "Record it again with the microphone on.");
        else if (said.Contains("moov atom not found", StringComparison.Ordinal)) log.Refuse("was never finished: the table of its contents is missing.", "The recorder writes it when it is stopped; copy the file again, or repair it with the program that recorded it.");
        else log.Refuse($"could not be decoded{FfmpegWords.Quoted(said)}.", "Copy the file again if the original is whole, or save it as WAV.");
    }

    private void End()
    {
        ended = true;
        var (code, said) = run.Finish();
        isDamaged = (code != 0 || said.Length > 0) && !isWholeInside;
        var used = isDamaged ? Unplaced : "What is there is used.";
        var seconds = frames / (double)Rate;
        if (run.Stalled) log.Say($"stops at {seconds:0.00} s: the decoder gave nothing more in time.", "What was read is used.");
        else if (promised is { } whole && seconds < whole - 0.15) log.Say($"breaks off: it promises {whole:0.00} s and holds {seconds:0.00} s{FfmpegWords.Quoted(said)}.", $"{used} Copy or record it again for the rest.");
        else if (code != 0 || said.Length > 0) log.Say($"is damaged; {seconds:0.00} s could be decoded{FfmpegWords.Quoted(said)}.", $"{used} Copy the file again if the original is whole.");
    }
}
