using Seamwright.Audio;
using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Audio.Writing;

public sealed class SoundFileWriterTests : IDisposable
{
    private static readonly SoundTags Tags = new() { Title = "Über \"das\" Lied; $(x)", Key = new KeySignature(-2, KeyMode.Minor), Tempo = 96.5, Comment = "Slowly,\nwith = air" };

    private readonly WritingFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("a.wav", 48000, 1, WavFormat.Pcm16)]
    [InlineData("a.WAV", 44100, 2, WavFormat.Pcm24)]
    [InlineData("a.wav", 8000, 2, WavFormat.Float32)]
    [InlineData("a.flac", 48000, 1, WavFormat.Pcm16)]
    [InlineData("a.flac", 44100, 2, WavFormat.Pcm24)]
    [InlineData("a.flac", 96000, 2, WavFormat.Pcm16)]
    public void Lossless_files_give_back_the_samples_as_they_were_rounded(string name, int rate, int channels, WavFormat format)
    {
        Need(name, "flac");
        var sound = Sound(rate, channels);
        var written = Written(name, Feed(sound, rate, channels), new() { Samples = format });
        var heard = OutsideOrOwn(written.Path, channels);
        var bytes = new byte[4 * sound.Length];
        var quantiser = new SampleQuantiser(format, 1);
        quantiser.Put(sound, bytes);
        Assert.Equal(sound.Length, heard.Length);
        for (var i = 0; i < sound.Length; i++)
        {
            var at = i * quantiser.Bytes;
            var expected = format switch
            {
                WavFormat.Pcm16 => BitConverter.ToInt16(bytes, at) / 32768f,
                WavFormat.Pcm24 => ((bytes[at] << 8) | (bytes[at + 1] << 16) | (bytes[at + 2] << 24)) / 2147483648f,
                _ => sound[i],
            };
            Assert.Equal(expected, heard[i]);
        }

        Assert.Equal(sound.Length / channels / (double)rate, written.Duration.Value, 1e-9);
        Assert.Equal(new FileInfo(written.Path).Length, written.Bytes);
        Assert.Equal([name], folder.Names());
    }

    [Theory]
    [InlineData("a.opus", 48000, 1, 31)]
    [InlineData("a.opus", 48000, 2, 31)]
    [InlineData("a.opus", 44100, 2, 31)]
    [InlineData("a.opus", 8000, 1, 30)]
    [InlineData("a.mp3", 48000, 1, 38)]
    [InlineData("a.mp3", 44100, 2, 38)]
    [InlineData("a.mp3", 22050, 1, 30)]
    public void Lossy_files_sound_alike_and_keep_time(string name, int rate, int channels, double least)
    {
        Need(name, "libmp3lame");
        var sound = Sound(rate, channels);
        var written = Written(name, Feed(sound, rate, channels), new());
        using var stream = SoundFile.Open(written.Path, cancel: TestContext.Current.CancellationToken).Value;
        var heard = new float[stream.Rate.Value * 4];
        heard = heard[..stream.Read(heard)];

        // Both channels are alike but for their level, 1 and 0.7; the stream gives their mean.
        var truth = SoundFolder.Sound(stream.Rate.Value).Select(x => channels == 2 ? x * 0.85f : x).ToArray();
        Assert.InRange(Math.Abs(heard.Length - truth.Length), 0, 1);
        Assert.Equal(0, Likeness.Lag(truth, heard, 100));
        Assert.InRange(Likeness.Match(truth[1000..^1000], heard[1000..Math.Min(heard.Length, truth.Length - 1000)]), least, 120);
        Assert.Empty(stream.Problems);
        Assert.Equal([name], folder.Names());
    }

    [Theory]
    [InlineData("a.wav", "libmp3lame", "title=Über \"das\" Lied; $(x)", "comment=Slowly, with = air; key G minor; 96.5 beats a minute")]
    [InlineData("a.flac", "flac", "title=Über \"das\" Lied; $(x)", "comment=Slowly, with = air", "KEY=G minor", "BPM=96.5")]
    [InlineData("a.opus", "libopus", "title=Über \"das\" Lied; $(x)", "comment=Slowly, with = air", "KEY=G minor", "BPM=96.5")]
    [InlineData("a.mp3", "libmp3lame", "title=Über \"das\" Lied; $(x)", "comment=Slowly, with = air", "TKEY=Gm", "TBPM=96")]
    public void Tags_are_read_back_by_an_outside_reader(string name, string encoder, params string[] expected)
    {
        Need(name, encoder);
        if (!File.Exists(OutsideReader.Program)) Assert.Skip("reason: ffprobe, the outside reader, is missing");
        var written = Written(name, Feed(Sound(48000, 1), 48000, 1), new(), Tags);
        var found = OutsideReader.Tags(written.Path);
        foreach (var tag in expected) Assert.Contains(tag, found, StringComparer.OrdinalIgnoreCase);

        // And nothing of them is taken for sound.
        Assert.InRange(SoundFile.Read(written.Path, cancel: TestContext.Current.CancellationToken).Value.Duration.Value, 2.69, 2.71);
    }

    [Theory]
    [InlineData("a.opus")]
    [InlineData("a.wav")]
    public void Where_ffmpeg_is_missing_wav_and_opus_are_still_written(string name)
    {
        var options = new WritingOptions { Ffmpeg = "" };
        Assert.Empty(SoundFileWriter.Check(folder.Path(name), options));
        Written(name, Feed(Sound(48000, 2), 48000, 2), options);
    }

    [Theory]
    [InlineData("a.flac", "is FLAC, which takes the program ffmpeg to write, and that was not found.", "Install ffmpeg")]
    [InlineData("a.mp3", "is MP3, which takes the program ffmpeg", "name a .wav or .opus file")]
    [InlineData("a.wma", "ends in .wma, which is no kind of sound file", "Let it end in .wav, .flac, .opus or .mp3")]
    [InlineData("a", "has no ending", "Let it end in")]
    [InlineData("nowhere/a.wav", "its folder does not exist", "Make the folder")]
    public void What_cannot_be_written_is_told_before_any_work(string name, string what, string hint)
    {
        var options = new WritingOptions { Ffmpeg = "" };
        var problem = Assert.Single(SoundFileWriter.Check(folder.Path(name), options));
        Assert.Contains(what, problem.What);
        Assert.Contains(hint, problem.Hint);
        Assert.Equal(problem, Assert.Single(Write(name, Feed(Sound(8000, 1), 8000, 1), options).Problems));
        Assert.Empty(folder.Names());
    }

    [Fact]
    public void A_folder_of_that_name_or_one_that_takes_no_files_is_told()
    {
        Directory.CreateDirectory(folder.Path("a.wav"));
        Assert.Contains("is a folder", Assert.Single(Write("a.wav", Feed(Sound(8000, 1), 8000, 1)).Problems).What);
        if (!Directory.Exists("/proc")) return;
        foreach (var name in (string[])["/proc/a.wav", "/proc/a.opus", "/proc/a.flac"])
        {
            if (name.EndsWith("flac", StringComparison.Ordinal)) OutsideCoder.Need("flac");
            var problem = Assert.Single(SoundFileWriter.Write(name, Feed(Sound(8000, 1), 8000, 1), cancel: TestContext.Current.CancellationToken).Problems);
            Assert.Equal(Severity.Error, problem.Severity);
            Assert.NotEmpty(problem.Hint);
        }
    }

    [Fact]
    public void Floats_in_flac_and_silly_options_are_refused()
    {
        OutsideCoder.Need("flac");
        Assert.Contains("holds no floats", Assert.Single(Write("a.flac", Feed(Sound(8000, 1), 8000, 1), new() { Samples = WavFormat.Float32 }).Problems).What);
        Assert.Throws<ArgumentOutOfRangeException>(() => Write("a.mp3", Feed(Sound(8000, 1), 8000, 1), new() { Mp3Kilobits = 123 }));
        Assert.Throws<ArgumentOutOfRangeException>(() => Write("a.wav", Feed(Sound(8000, 1), 8000, 1), null, new SoundTags { Tempo = 0 }));
    }

    [Fact]
    public void The_same_sound_gives_the_same_file_and_replaces_the_one_before()
    {
        foreach (var name in (string[])["a.wav", "a.opus"])
        {
            File.WriteAllText(folder.Path(name), "something else");
            File.WriteAllText(folder.Path(name + ".part"), "left by a run that was cut off");
            var first = File.ReadAllBytes(Written(name, Feed(Sound(48000, 2), 48000, 2), new()).Path);
            Assert.Equal(first, File.ReadAllBytes(Written(name, Feed(Sound(48000, 2), 48000, 2), new()).Path));
        }

        Assert.Equal(["a.opus", "a.wav"], folder.Names());
    }

    private static void Need(string name, string encoder)
    {
        if (!name.EndsWith("wav", StringComparison.OrdinalIgnoreCase) && !name.EndsWith("opus", StringComparison.Ordinal)) OutsideCoder.Need(encoder);
    }

    // Channels apart by the outside decoder; mono by our own.
    private static float[] OutsideOrOwn(string path, int channels)
    {
        if (channels == 1) return SoundFile.Read(path, cancel: TestContext.Current.CancellationToken).Value.Samples.ToArray();
        OutsideCoder.Need("flac");
        return OutsideCoder.Decode(path);
    }

    private static float[] Sound(int rate, int channels)
    {
        var mono = SoundFolder.Sound(rate);
        return channels == 1 ? mono : [.. mono.SelectMany(x => (float[])[x, 0.7f * x])];
    }

    private static SamplesFeed Feed(float[] samples, int rate, int channels) => new(samples, new SampleRate(rate), channels);

    private Outcome<WrittenSound> Write(string name, SoundFeed sound, WritingOptions? options = null, SoundTags? tags = null) =>
        SoundFileWriter.Write(folder.Path(name), sound, tags, options, TestContext.Current.CancellationToken);

    private WrittenSound Written(string name, SoundFeed sound, WritingOptions options, SoundTags? tags = null)
    {
        var written = Write(name, sound, options, tags);
        Assert.True(written.Succeeded, string.Join("; ", written.Problems));
        return written.Value;
    }
}
