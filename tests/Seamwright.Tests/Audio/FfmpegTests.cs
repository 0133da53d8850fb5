using System.Diagnostics;
using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Audio;

public class FfmpegTests(SoundFolder folder) : IClassFixture<SoundFolder>
{
    private static readonly SoundOptions None = new() { Ffmpeg = "" };

    [Theory]
    [InlineData("take.flac", "flac", "FLAC")]
    [InlineData("take.m4a", "aac", "MP4 (M4A, MOV)")]
    [InlineData("take.aac", "aac", "AAC")]
    public void Where_ffmpeg_is_missing_the_message_says_what_needs_it_and_what_to_do(string name, string encoder, string format)
    {
        var problem = Assert.Single(Read(folder.Encoded(name, 48000, 1, encoder), None).Problems);
        Assert.Equal(Severity.Error, problem.Severity);
        Assert.EndsWith(name, problem.Where);
        Assert.Contains($"is {format}, which takes the program ffmpeg", problem.What);
        Assert.Contains("Install ffmpeg", problem.Hint);
        Assert.Contains("WAV", problem.Hint);
    }

    // Sound over difference, dB: what the codecs lose by themselves.
    [Theory]
    [InlineData("ima.wav", "adpcm_ima_wav", 44100, 20)]
    [InlineData("ms.wav", "adpcm_ms", 44100, 20)]
    [InlineData("gsm.wav", "libgsm_ms", 8000, 3)]
    public void A_wav_that_a_codec_has_packed_is_unpacked_by_ffmpeg(string name, string encoder, int rate, double alike)
    {
        var path = folder.Encoded(name, rate, 1, encoder);
        var read = Read(path);
        Assert.True(read.Succeeded, string.Join(" ", read.Problems));
        Assert.Equal(rate, read.Value.Rate.Value);
        Assert.InRange(read.Value.Duration.Value, 2.65, 2.8);
        Assert.InRange(Likeness.Match(SoundFolder.Sound(rate), read.Value.Samples.ToArray()), alike, 100);
        var without = Assert.Single(Read(path, None).Problems);
        Assert.Matches("is WAV packed as (ADPCM|GSM), which takes the program ffmpeg", without.What);
        Assert.Contains("Install ffmpeg", without.Hint);
    }

    [Fact]
    public void A_packed_wav_that_breaks_off_is_told_by_the_length_it_promises()
    {
        var whole = File.ReadAllBytes(folder.Encoded("ima.wav", 44100, 1, "adpcm_ima_wav"));
        var read = Read(folder.Write("cut.wav", whole[..(whole.Length / 2)]));
        Assert.True(read.Succeeded);
        Assert.Contains(read.Problems, p => p.What.StartsWith("breaks off: it promises 2.7", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("take.mp3", "libmp3lame")]
    [InlineData("take.ogg", "libvorbis")]
    [InlineData("take.opus", "libopus")]
    public void Where_ffmpeg_is_missing_our_own_decoders_still_serve(string name, string encoder) =>
        Assert.True(Read(folder.Encoded(name, 48000, 1, encoder), None).Succeeded);

    [Fact]
    public void An_mp3_of_8_kHz_is_beyond_our_own_decoder() =>
        Assert.Contains("takes the program ffmpeg", Read(folder.Encoded("take.mp3", 8000, 1, "libmp3lame", "-b:a", "24k"), None).Problems.Single().What);

    [Fact]
    public void A_program_that_cannot_be_run_is_told_by_its_path()
    {
        var flac = folder.Encoded("take.flac", 48000, 1, "flac");
        var program = folder.Write("no-program", [1, 2, 3]);
        Assert.Contains("cannot be started", Read(flac, new SoundOptions { Ffmpeg = program }).Problems.Single().What);
    }

    [Fact]
    public void A_program_that_gives_nothing_is_ended_in_time()
    {
        var options = new SoundOptions { Ffmpeg = Script("exec sleep 600"), Limits = AudioLimits.Default with { StallSeconds = 0.5 } };
        var watch = Stopwatch.StartNew();
        Assert.Contains("gave no sound in time", Read(folder.Encoded("take.flac", 48000, 1, "flac"), options).Problems.Single().What);
        Assert.InRange(watch.Elapsed.TotalSeconds, 0.4, 10);
    }

    [Fact]
    public void A_program_that_stops_giving_leaves_what_it_gave()
    {
        // 24 bytes of header (floats, 48 kHz, one channel) and a second of sound, then silence on the line.
        var header = @"\056snd\000\000\000\030\377\377\377\377\000\000\000\006\000\000\273\200\000\000\000\001";
        var script = Script($"printf '{header}'; head -c 192000 /dev/zero; exec sleep 600");
        var options = new SoundOptions { Ffmpeg = script, Limits = AudioLimits.Default with { StallSeconds = 0.5 } };
        var read = Read(folder.Encoded("take.flac", 48000, 1, "flac"), options);
        Assert.Equal(48000, read.Value.Samples.Length);
        Assert.Contains(read.Problems, p => p.What.StartsWith("stops at 1.00 s", StringComparison.Ordinal));
    }

    [Fact]
    public void A_program_that_fails_is_quoted_in_one_line()
    {
        var script = Script("echo '[flac @ 0x55d0] broken to the bone' >&2; for i in $(seq 5000); do echo and more of it >&2; done; exit 3");
        var problem = Read(folder.Encoded("take.flac", 48000, 1, "flac"), new SoundOptions { Ffmpeg = script }).Problems.Single();
        Assert.Contains("(ffmpeg: \"broken to the bone\" and", problem.What);
        Assert.Matches("and [0-9]{1,3} more", problem.What);
        Assert.True(problem.What.Length < 200);
    }

    [Fact]
    public void Cancelling_ends_the_program_and_reading()
    {
        using var cancel = new CancellationTokenSource();
        var mark = folder.Path("pid");
        var script = Script($"echo $$ > '{mark}'; exec sleep 600");
        var flac = folder.Encoded("take.flac", 48000, 1, "flac");
        var options = new SoundOptions { Ffmpeg = script, Limits = AudioLimits.Default with { StallSeconds = 300 } };
        var reading = Task.Run(() => SoundFile.Read(flac, options, cancel.Token), TestContext.Current.CancellationToken);
        Assert.True(SpinWait.SpinUntil(() => File.Exists(mark) && new FileInfo(mark).Length > 1, TimeSpan.FromSeconds(20)));
        var pid = int.Parse(File.ReadAllText(mark));
        cancel.Cancel();
        Assert.True(SpinWait.SpinUntil(() => reading.IsCompleted, TimeSpan.FromSeconds(20)));
        Assert.ThrowsAny<OperationCanceledException>(() => reading.GetAwaiter().GetResult());
        Assert.True(SpinWait.SpinUntil(() => !IsRunning(pid), TimeSpan.FromSeconds(20)));
    }

    [Fact]
    public void A_stream_that_is_put_away_early_ends_its_program()
    {
        var mark = folder.Path("early");
        var header = @"\056snd\000\000\000\030\377\377\377\377\000\000\000\006\000\000\273\200\000\000\000\001";
        var script = Script($"echo $$ > '{mark}'; printf '{header}'; head -c 100000 /dev/zero; exec sleep 600");
        using (var stream = SoundFile.Open(folder.Encoded("take.flac", 48000, 1, "flac"), new SoundOptions { Ffmpeg = script }, TestContext.Current.CancellationToken).Value)
            Assert.Equal(1000, stream.Read(new float[1000]));
        var pid = int.Parse(File.ReadAllText(mark));
        Assert.True(SpinWait.SpinUntil(() => !IsRunning(pid), TimeSpan.FromSeconds(20)));
    }

    [Fact]
    public void A_file_named_like_an_address_or_an_option_is_still_only_a_file()
    {
        var bytes = File.ReadAllBytes(folder.Encoded("take.flac", 48000, 1, "flac"));
        foreach (var name in (string[])["concat:a|b.flac", "-i.flac", "http:what.flac", "with 'quotes' and $(touch x).flac"])
            Assert.True(Read(folder.Write(name, bytes)).Succeeded, name);
    }

    [Fact]
    public void A_list_that_points_elsewhere_is_not_followed()
    {
        var flac = folder.Encoded("take.flac", 48000, 1, "flac");
        foreach (var list in (string[])["#EXTM3U\n#EXTINF:1,\n" + flac + "\n", "ffconcat version 1.0\nfile '" + flac + "'\n"])
            Assert.False(Read(folder.Write("list.flac", System.Text.Encoding.UTF8.GetBytes(list))).Succeeded);
    }

    private static Outcome<Recording> Read(string path, SoundOptions? options = null) => SoundFile.Read(path, options, TestContext.Current.CancellationToken);

    private string Script(string what)
    {
        if (!File.Exists("/bin/sh")) Assert.Skip("reason: no shell for the stand-in");
        var path = folder.Path($"stand-in-{Math.Abs(what.GetHashCode(StringComparison.Ordinal))}");
        File.WriteAllText(path, "#!/bin/sh\n" + what + "\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        return path;
    }

    private static bool IsRunning(int pid)
    {
        try
        {
            using var process = Process.GetProcessById(pid);
            return !process.HasExited;
        }
        catch (ArgumentException)
        {
            return false;
        }
    }
}
