using System.Diagnostics;
using Seamwright.Audio;
using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Audio.Writing;

/// <summary>Whatever fails, no half file stays, and the one that was there before does.</summary>
public sealed class FailingWriteTests : IDisposable
{
    private readonly WritingFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("a.wav")]
    [InlineData("a.opus")]
    public void A_full_disk_is_told_and_leaves_what_was_there(string name)
    {
        if (!File.Exists("/dev/full")) Assert.Skip("reason: no /dev/full");
        File.WriteAllText(folder.Path(name), "before");
        var written = SoundFileWriter.Write(folder.Path(name), Feed(10), SoundTags.None, new(), part =>
        {
            File.WriteAllText(part, "as if");
            return new FileStream("/dev/full", FileMode.Open, FileAccess.Write, FileShare.ReadWrite, 0);
        }, TestContext.Current.CancellationToken);
        Told(written, "was not written: the disk is full.", "Make room");
        Untouched(name);
    }

    [Theory]
    [InlineData("a.flac", "flac")]
    [InlineData("a.mp3", "libmp3lame")]
    public void A_full_disk_under_ffmpeg_is_told_too(string name, string encoder)
    {
        OutsideCoder.Need(encoder);
        if (!File.Exists("/dev/full")) Assert.Skip("reason: no /dev/full");
        File.WriteAllText(folder.Path(name), "before");

        // The real program, writing to the device that is always full in place of its last argument.
        var program = folder.Script($"n=$#; while [ $n -gt 1 ]; do a=$1; shift; set -- \"$@\" \"$a\"; n=$((n-1)); done; shift; exec {OutsideCoder.Program} \"$@\" file:/dev/full");
        Told(Write(name, Feed(60), program), "was not written: the disk is full", "Make room");
        Untouched(name);
    }

    [Theory]
    [InlineData("head -c 100000 >/dev/null; echo '[flac @ 0x1] out of breath' >&2; exit 1", "was not written: ffmpeg failed (ffmpeg: \"out of breath\").", ".wav or .opus")]
    [InlineData("cat >/dev/null; echo broken at the end >&2; exit 1", "was not written: ffmpeg failed (ffmpeg: \"broken at the end\").", ".wav or .opus")]
    [InlineData("cat >/dev/null", "was not written: ffmpeg said that all was well, but wrote nothing.", ".wav or .opus")]
    [InlineData("echo \"Unknown encoder 'flac'\" >&2; exit 1", "is FLAC, which this ffmpeg cannot write (ffmpeg: \"Unknown encoder 'flac'\").", "with that encoder")]
    public void A_program_that_fails_is_quoted(string script, string what, string hint)
    {
        File.WriteAllText(folder.Path("a.flac"), "before");
        Told(Write("a.flac", Feed(60), folder.Script(script)), what, hint);
        Untouched("a.flac");
    }

    [Theory]
    [InlineData("exec sleep 600")]
    [InlineData("cat >/dev/null; exec sleep 600")]
    public void A_program_that_hangs_is_ended(string script)
    {
        File.WriteAllText(folder.Path("a.mp3"), "before");
        Told(Write("a.mp3", Feed(60), folder.Script(script), stall: 0.5), "ffmpeg took nothing more in time", ".wav or .opus");
        Untouched("a.mp3");
    }

    [Fact]
    public void A_program_that_cannot_be_run_is_told_by_its_path()
    {
        var program = folder.Path("tools");
        File.WriteAllText(program, "no program");
        var problem = Assert.Single(Write("a.flac", Feed(1), program).Problems);
        Assert.Contains($"cannot be started ({program})", problem.What);
        Assert.Equal(["tools"], folder.Names());
    }

    [Theory]
    [InlineData("a.wav")]
    [InlineData("a.opus")]
    [InlineData("a.flac")]
    public void A_sound_that_fails_half_way_leaves_nothing_behind(string name)
    {
        if (name.EndsWith("flac", StringComparison.Ordinal)) OutsideCoder.Need("flac");
        File.WriteAllText(folder.Path(name), "before");
        Assert.Throws<InvalidOperationException>(() => Write(name, new Breaking(100_000, () => throw new InvalidOperationException())));
        using var cancel = new CancellationTokenSource();
        Assert.ThrowsAny<OperationCanceledException>(() => SoundFileWriter.Write(folder.Path(name), new Breaking(100_000, cancel.Cancel), cancel: cancel.Token));
        Untouched(name);
    }

    [Fact]
    public void Cancelling_ends_the_program()
    {
        using var cancel = new CancellationTokenSource();
        var mark = folder.Path("tools.pid");
        var script = folder.Script($"echo $$ > '{mark}'; exec sleep 600");
        var writing = Task.Run(() => SoundFileWriter.Write(folder.Path("a.flac"), Feed(600), null, new() { Ffmpeg = script, StallSeconds = 300 }, cancel.Token), TestContext.Current.CancellationToken);
        Assert.True(SpinWait.SpinUntil(() => File.Exists(mark) && new FileInfo(mark).Length > 1, TimeSpan.FromSeconds(20)));
        var pid = int.Parse(File.ReadAllText(mark));
        cancel.Cancel();
        Assert.True(SpinWait.SpinUntil(() => writing.IsCompleted, TimeSpan.FromSeconds(20)));
        Assert.ThrowsAny<OperationCanceledException>(() => writing.GetAwaiter().GetResult());
        Assert.True(SpinWait.SpinUntil(() => !Process.GetProcesses().Any(p => p.Id == pid), TimeSpan.FromSeconds(20)));
        Assert.Equal(["tools.pid"], folder.Names());
    }

    [Theory]
    [InlineData("a.wav")]
    [InlineData("a.opus")]
    public void No_sound_is_no_file(string name)
    {
        Told(Write(name, Feed(0)), "there is no sound to write", "");
        Assert.Empty(folder.Names());
    }

    [Fact]
    public void A_sound_too_long_for_wav_is_told()
    {
        using var sink = new WavSink(Stream.Null, new WavHead(192000, 2, WavFormat.Float32, []), new SampleQuantiser(WavFormat.Float32, 1));
        var block = new float[1 << 22];
        var written = 0L;
        var fault = Assert.Throws<WritingFault>(() =>
        {
            for (; written < 2048L << 22; written += block.Length) sink.Write(block);
        });
        Assert.Contains("longer than the 4 GiB", fault.Message);
        Assert.Equal(1L << 30, written + block.Length);
    }

    private static void Told(Outcome<WrittenSound> written, string what, string hint)
    {
        var problem = Assert.Single(written.Problems);
        Assert.Equal(Severity.Error, problem.Severity);
        Assert.Contains(what, problem.What);
        Assert.Contains(hint, problem.Hint);
        Assert.DoesNotContain('\n', problem.ToString());
    }

    private void Untouched(string name)
    {
        Assert.Equal([name], folder.Names());
        Assert.Equal("before", File.ReadAllText(folder.Path(name)));
    }

    private Outcome<WrittenSound> Write(string name, SoundFeed sound, string? ffmpeg = null, double stall = 30) =>
        SoundFileWriter.Write(folder.Path(name), sound, null, new() { Ffmpeg = ffmpeg, StallSeconds = stall }, TestContext.Current.CancellationToken);

    // Noise, so that no encoder makes it small.
    private static Breaking Feed(double seconds) => new((long)(seconds * 48000), null);

    /// <summary>Noise that does something at its end.</summary>
    private sealed class Breaking(long frames, Action? then) : SoundFeed(new SampleRate(48000), 1)
    {
        private SeededNoise noise = new(1);
        private long given;

        public override int Read(Span<float> interleaved)
        {
            var count = (int)Math.Min(interleaved.Length, frames - given);
            for (var i = 0; i < count; i++) interleaved[i] = 0.3f * noise.Uniform();
            given += count;
            if (count == 0 && then is not null)
            {
                then();
                return 1;
            }

            return count;
        }

        public override void Restart() => given = 0;
    }
}
