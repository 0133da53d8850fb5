using System.ComponentModel;
using Seamwright.Audio.External;

namespace Seamwright.Audio.Writing;

/// <summary>A file that the program ffmpeg writes from samples on its input.</summary>
/// <remarks>It writes the file itself, because length and check sum go into the head at the end.</remarks>
internal sealed class FfmpegSink : SoundSink
{
    private readonly FfmpegRun run;
    private readonly SampleQuantiser quantiser;
    private readonly string format, path;
    private byte[] block = [];

    private FfmpegSink(FfmpegRun run, SampleQuantiser quantiser, string format, string path) =>
        (this.run, this.quantiser, this.format, this.path) = (run, quantiser, format, path);

    /// <summary>Starts the program.</summary>
    /// <param name="program">Where it lies.</param>
    /// <param name="path">The file to be written.</param>
    /// <param name="how">Kind, samples and time.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="WritingFault">It cannot be started.</exception>
    public static FfmpegSink Open(string program, string path, FfmpegEncoding how, CancellationToken cancel)
    {
        try
        {
            var run = FfmpegRun.Start(program, how.Arguments(path), how.Patience, cancel, isFed: true);
            return new FfmpegSink(run, new SampleQuantiser(how.Samples, how.Seed), how.Name, path);
        }
        catch (Win32Exception e)
        {
            throw new WritingFault($"needs the program ffmpeg, which cannot be started ({program}): {e.Message}", "Check that it can be run by itself.");
        }
    }

    public override void Write(ReadOnlySpan<float> interleaved)
    {
        var length = interleaved.Length * quantiser.Bytes;
        if (block.Length < length) block = new byte[length];
        quantiser.Put(interleaved, block);
        if (!run.Feed(block.AsSpan(0, length))) throw Explained();
    }

    public override void Finish()
    {
        run.EndFeeding();
        var (code, said) = run.Finish();
        if (code != 0 || SaysFull(said)) throw Explained(said);
        if (!File.Exists(path) || new FileInfo(path).Length == 0) throw new WritingFault("was not written: ffmpeg said that all was well, but wrote nothing.", "Name a .wav or .opus file, or see that the ffmpeg on the path works by itself.");
    }

    public override void Dispose()
    {
        run.Dispose();
        base.Dispose();
    }

    private WritingFault Explained() => Explained(run.Finish().Said);

    private WritingFault Explained(string said)
    {
        if (run.Stalled) return new WritingFault("was not written: ffmpeg took nothing more in time.", "Name a .wav or .opus file, or check the disk.");
        if (SaysFull(said)) return WritingFault.OfFullDisk(FfmpegWords.Quoted(said));
        if (said.Contains("Unknown encoder", StringComparison.Ordinal))
            return new WritingFault($"is {format}, which this ffmpeg cannot write{FfmpegWords.Quoted(said)}.", "Install an ffmpeg with that encoder, or name a .wav or .opus file.");
        return new WritingFault($"was not written: ffmpeg failed{FfmpegWords.Quoted(said)}.", "Name a .wav or .opus file, which take no ffmpeg.");
    }

    private static bool SaysFull(string said) =>
        said.Contains("No space left on device", StringComparison.Ordinal) || said.Contains("File too large", StringComparison.Ordinal);
}
