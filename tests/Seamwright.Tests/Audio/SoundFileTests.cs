using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Audio;

public class SoundFileTests(SoundFolder folder) : IClassFixture<SoundFolder>
{
    private static readonly SoundOptions Managed = new() { Decoder = DecoderChoice.Managed, Ffmpeg = "" };

    private static readonly SoundOptions Outside = new() { Decoder = DecoderChoice.Ffmpeg };

    /// <summary>Name, rate, channels, encoder, the longest frame in samples that may be left at the end.</summary>
    public static TheoryData<string, int, int, string, int> Lossy => new()
    {
        { "take.mp3", 44100, 1, "libmp3lame -b:a 128k", 0 },
        { "take.mp3", 48000, 2, "libmp3lame -q:a 3", 0 },
        { "take.mp3", 22050, 1, "libmp3lame -b:a 64k", 0 },
        { "take.mp3", 8000, 1, "libmp3lame -b:a 24k", 0 },
        { "take.mp3", 11025, 2, "libmp3lame -b:a 32k", 0 },
        { "take.mp3", 12000, 1, "libmp3lame -b:a 32k", 0 },
        { "take.ogg", 44100, 2, "libvorbis -q:a 5", 0 },
        { "take.ogg", 48000, 1, "libvorbis -q:a 2", 0 },
        { "take.opus", 48000, 2, "libopus -b:a 96k", 0 },
        { "take.opus", 48000, 1, "libopus -b:a 32k -frame_duration 60", 0 },
        { "take.m4a", 44100, 2, "aac -b:a 128k", 1024 },
        { "take.mov", 48000, 1, "aac -b:a 96k", 1024 },
        { "take.mp4", 48000, 2, "aac -movflags +faststart", 1024 },
        { "take.webm", 48000, 1, "libopus -b:a 64k", 0 },
    };

    [Theory]
    [MemberData(nameof(Lossy))]
    public void A_lossy_file_keeps_length_time_and_level(string name, int rate, int channels, string encoder, int lastFrame)
    {
        var read = Read(folder.Encoded(name, rate, channels, encoder.Split(' ')));
        Assert.Empty(read.Problems);
        Assert.Equal(rate, read.Value.Rate.Value);
        var (truth, heard) = (Truth(rate, channels), read.Value.Samples.ToArray());
        Assert.InRange(heard.Length, truth.Length, truth.Length + lastFrame);
        Assert.InRange(Likeness.Lag(truth, heard, rate / 50), -rate / 1000, rate / 1000);
        Assert.Equal(Likeness.Level(truth), Likeness.Level(heard), 0.5);
    }

    [Fact]
    public void An_aac_file_without_a_container_keeps_level_and_is_late_by_its_encoders_first_frame_at_most()
    {
        // ADTS has no place to say what the encoder put before the sound (1,024 samples for this one).
        var read = Read(folder.Encoded("take.aac", 48000, 1, "aac", "-b:a", "96k"));
        var (truth, heard) = (Truth(48000, 1), read.Value.Samples.ToArray());
        Assert.InRange(Likeness.Lag(truth, heard, 3000), 0, 1024 + 48);
        Assert.Equal(Likeness.Level(truth), Likeness.Level(heard), 0.5);
    }

    [Theory]
    [InlineData("take.flac", 48000, 1, "flac")]
    [InlineData("take.flac", 44100, 2, "flac -compression_level 12")]
    [InlineData("take.m4a", 44100, 1, "alac")]
    [InlineData("take.aiff", 48000, 2, "pcm_s16be")]
    [InlineData("take.caf", 48000, 1, "pcm_s16le")]
    [InlineData("take.ogg", 48000, 1, "flac")]
    public void A_lossless_file_is_the_same_to_the_bit(string name, int rate, int channels, string encoder)
    {
        var read = Read(folder.Encoded(name, rate, channels, encoder.Split(' ')));
        Assert.Empty(read.Problems);
        Assert.Equal(Truth(rate, channels), read.Value.Samples.ToArray());
    }

    [Fact]
    public void A_flac_file_of_24_bits_is_the_same_to_the_bit()
    {
        var wav = folder.Encoded("take.wav", 48000, 1, "pcm_s24le", "-af", "volume=0.1234");
        var flac = folder.Path("deep.flac");
        OutsideCoder.Run("-v", "error", "-y", "-i", wav, "-c:a", "flac", "-sample_fmt", "s32", "-bits_per_raw_sample", "24", flac);
        Assert.Equal(Read(wav).Value.Samples.ToArray(), Read(flac).Value.Samples.ToArray());
    }

    [Theory]
    [InlineData("take.mp3", 44100, 1, "libmp3lame -b:a 128k", 80)]
    [InlineData("take.mp3", 48000, 2, "libmp3lame -q:a 3", 55)]
    [InlineData("take.mp3", 22050, 1, "libmp3lame -b:a 64k", 80)]
    [InlineData("take.mp3", 11025, 2, "libmp3lame -b:a 32k", 80)]
    [InlineData("take.mp3", 12000, 1, "libmp3lame -b:a 32k", 80)]
    [InlineData("take.mp3", 24000, 2, "libmp3lame -b:a 48k", 80)]
    [InlineData("take.mp3", 16000, 2, "libmp3lame -b:a 48k -joint_stereo 0", 80)]
    [InlineData("take.mp3", 32000, 2, "libmp3lame -b:a 320k", 80)]
    [InlineData("take.mp3", 44100, 2, "libmp3lame -b:a 64k", 80)]
    [InlineData("bare.mp3", 44100, 2, "libmp3lame -b:a 192k -write_xing 0", 80)]
    [InlineData("take.ogg", 44100, 2, "libvorbis -q:a 5", 80)]
    [InlineData("take.ogg", 48000, 1, "libvorbis -q:a 2", 80)]
    [InlineData("take.opus", 48000, 2, "libopus -b:a 96k", 60)]
    [InlineData("take.opus", 48000, 1, "libopus -b:a 32k -frame_duration 60", 60)]
    [InlineData("take.opus", 48000, 1, "libopus -b:a 24k -application voip", 60)]
    public void Our_decoders_give_what_an_outside_decoder_gives(string name, int rate, int channels, string encoder, double decibels)
    {
        // The last frame of one MP3 is an attack in reverse, which our decoder renders a little differently (see below).
        // Opus is decoded here in integers of 16 bits, as its reference implementation can be: hence the smaller figure.
        var path = folder.Encoded(name, rate, channels, encoder.Split(' '));
        var outside = OutsideCoder.Decode(path);
        var mono = channels == 1 ? outside : [.. Enumerable.Range(0, outside.Length / 2).Select(i => (outside[2 * i] + outside[(2 * i) + 1]) / 2)];
        var ours = Read(path, Managed).Value.Samples.ToArray();
        Assert.Equal(mono.Length, ours.Length);
        Assert.True(Likeness.Match(mono, ours) > decibels, $"{Likeness.Match(mono, ours):0.0} dB");
    }

    [Fact]
    public void The_attacks_of_an_mp3_are_those_of_the_outside_decoder_where_it_is_installed_and_are_doubted_where_not()
    {
        // Bursts of noise over a tone: the encoder takes short blocks for them, which our decoder renders differently.
        OutsideCoder.Need("libmp3lame");
        var path = folder.Path("bursts.mp3");
        OutsideCoder.Run("-v", "error", "-y", "-f", "lavfi", "-i", "aevalsrc=0.4*exp(-25*mod(5*t\\,1))*(2*random(0)-1)+0.2*sin(2*PI*200*t):s=44100:d=2", "-c:a", "libmp3lame", "-q:a", "4", path);
        var best = Read(path);
        Assert.Empty(best.Problems);
        Assert.True(Likeness.Match(OutsideCoder.Decode(path), best.Value.Samples.ToArray()) > 120);
        Assert.Contains("sharp attacks", Read(path, Managed).Problems.Single().What);
    }

    [Theory]
    [InlineData("take.mp3", "libmp3lame -b:a 128k")]
    [InlineData("take.ogg", "libvorbis -q:a 5")]
    [InlineData("take.opus", "libopus -b:a 96k")]
    public void Either_decoder_serves_in_place_of_the_other(string name, string encoder)
    {
        var path = folder.Encoded(name, 48000, 2, encoder.Split(' '));
        var (ours, outside) = (Read(path, Managed), Read(path, Outside));
        Assert.Equal(outside.Value.Samples.Length, ours.Value.Samples.Length);
        Assert.True(Likeness.Match(outside.Value.Samples.ToArray(), ours.Value.Samples.ToArray()) > 55);
        Assert.Equal(ours.Problems.Where(p => p.Severity != Severity.Note), outside.Problems);
    }

    [Theory]
    [InlineData("take.wav", "pcm_s16le")]
    [InlineData("take.flac", "flac")]
    [InlineData("take.mp3", "libmp3lame -q:a 3")]
    [InlineData("take.ogg", "libvorbis -q:a 5")]
    [InlineData("take.opus", "libopus -b:a 96k")]
    [InlineData("take.m4a", "aac -b:a 128k")]
    public void Read_in_pieces_of_any_size_it_is_the_same_as_read_at_once(string name, string encoder)
    {
        var path = folder.Encoded(name, 48000, 2, encoder.Split(' '));
        var whole = Read(path);
        var random = new Random(4);
        using var stream = SoundFile.Open(path, cancel: TestContext.Current.CancellationToken).Value;
        var pieces = new List<float>();
        while (true)
        {
            var piece = new float[1 + random.Next(9000)];
            var read = stream.Read(piece);
            pieces.AddRange(piece[..read]);
            if (read == 0) break;
        }

        Assert.Equal(whole.Value.Samples.ToArray(), pieces);
        Assert.Equal(whole.Problems, stream.Problems);
        Assert.Equal(0, stream.Read(new float[100]));
    }

    [Theory]
    [InlineData("take.flac", "flac", "FLAC")]
    [InlineData("take.mp3", "libmp3lame -q:a 3", "MP3")]
    [InlineData("take.ogg", "libvorbis -q:a 5", "Ogg Vorbis")]
    [InlineData("take.opus", "libopus -b:a 96k", "Opus")]
    [InlineData("take.m4a", "aac -b:a 128k", "MP4 (M4A, MOV)")]
    [InlineData("take.aac", "aac -b:a 128k", "AAC")]
    [InlineData("take.webm", "libopus -b:a 64k", "WebM (Matroska)")]
    [InlineData("take.au", "pcm_s16be", "AU")]
    public void The_content_tells_the_kind_whatever_the_name_says(string name, string encoder, string format)
    {
        var path = folder.Encoded(name, 48000, 1, encoder.Split(' '));
        var misnamed = folder.Write($"not-a-{format.Replace(' ', '-').Replace('/', '-')}.wav", File.ReadAllBytes(path));
        using var stream = SoundFile.Open(misnamed, cancel: TestContext.Current.CancellationToken).Value;
        Assert.Equal(format, stream.Format);
        Assert.True(stream.Read(new float[1000]) == 1000);
    }

    [Fact]
    public void Tags_before_and_after_the_sound_change_nothing()
    {
        var path = folder.Encoded("take.mp3", 44100, 1, "libmp3lame", "-b:a", "128k");
        var bare = File.ReadAllBytes(path);
        var picture = new byte[70_000];
        new Random(3).NextBytes(picture);
        byte[] before = [.. "ID3"u8, 4, 0, 0, 0, 4, 0x22, 0x70, .. picture];
        byte[] after = [.. "TAG"u8, .. new byte[125]];
        var tagged = Read(folder.Write("tagged.mp3", [.. before, .. bare, .. after]));
        Assert.Empty(tagged.Problems);
        Assert.Equal(Read(path).Value.Samples.ToArray(), tagged.Value.Samples.ToArray());
    }

    [Fact]
    public void Bytes_that_look_like_two_frames_by_accident_are_no_frames()
    {
        // Two in step, and the third beyond what is looked at.
        var noise = new byte[20_000];
        new Random(11).NextBytes(noise);
        for (var i = 0; i < noise.Length; i++)
            if (noise[i] == 0xFF) noise[i] = 0;
        byte[] frame = [0xFF, 0xF1, 0x50, 0x80, 0x20, 0x1F, 0xFC];
        frame.CopyTo(noise, 7800);
        frame.CopyTo(noise, 7800 + 256);
        Assert.Contains("no sound file of a known kind", Refusal(folder.Write("noise.bin", noise)).What);
    }

    [Theory]
    [InlineData("take.opus", "libopus -b:a 96k")]
    [InlineData("take.ogg", "libvorbis -q:a 5")]
    public void An_ogg_file_whose_first_bytes_are_lost_is_told_to_be_damaged_there(string name, string encoder)
    {
        var bytes = File.ReadAllBytes(folder.Encoded(name, 48000, 1, encoder.Split(' ')));
        "XXXX"u8.CopyTo(bytes);
        Assert.Contains("is damaged at its beginning", Refusal(folder.Write("lost-" + name, bytes)).What);
    }

    [Fact]
    public void A_film_without_sound_is_told_as_such()
    {
        OutsideCoder.Need("mpeg4");
        var path = folder.Path("silent.mp4");
        OutsideCoder.Run("-v", "error", "-y", "-f", "lavfi", "-i", "testsrc=size=64x64:rate=10:duration=1", "-c:v", "mpeg4", path);
        Assert.Contains("holds no sound", Refusal(path).What);
    }

    [Fact]
    public void The_sound_of_a_film_is_read_whatever_stands_first_in_it()
    {
        OutsideCoder.Need("mpeg4");
        var wav = folder.Wav(48000, 1);
        var path = folder.Path("film.mov");
        OutsideCoder.Run("-v", "error", "-y", "-f", "lavfi", "-i", "testsrc=size=64x64:rate=10:duration=2.7", "-i", wav, "-c:v", "mpeg4", "-c:a", "aac", path);
        var read = Read(path);
        Assert.Empty(read.Problems);
        Assert.InRange(Likeness.Lag(Truth(48000, 1), read.Value.Samples.ToArray(), 960), -48, 48);
    }

    [Fact]
    public void More_than_two_channels_are_refused_in_every_kind_of_file()
    {
        var wav = folder.Wav(48000, 1);
        foreach (var (name, encoder) in (ValueTuple<string, string>[])[("surround.flac", "flac"), ("surround.ogg", "libvorbis"), ("surround.opus", "libopus"), ("surround.m4a", "aac")])
        {
            OutsideCoder.Need(encoder);
            var path = folder.Path(name);
            OutsideCoder.Run("-v", "error", "-y", "-i", wav, "-af", "pan=quad|c0=c0|c1=c0|c2=c0|c3=c0", "-c:a", encoder, path);
            Assert.Contains("4 channels", Refusal(path).What);
        }
    }

    [Theory]
    [InlineData("", "is empty")]
    [InlineData("Dear teacher, here is my take.", "no sound file of a known kind")]
    [InlineData("RIFF0000AVI aaaaaaa", "no sound file of a known kind")]
    [InlineData("RIFF0000WAVE", "no format chunk")]
    public void What_is_no_sound_file_is_told_and_what_to_give(string content, string says)
    {
        var problem = Refusal(folder.Write("letter.wav", System.Text.Encoding.Latin1.GetBytes(content)));
        Assert.Contains(says, problem.What);
        Assert.NotEmpty(problem.Hint);
    }

    [Fact]
    public void A_missing_file_and_a_folder_are_told()
    {
        Assert.Contains("no such file", Refusal(folder.Path("nowhere.mp3")).What);
        Assert.Contains("is a folder", Refusal(folder.Path("")).What);
    }

    [Fact]
    public void A_recording_longer_than_may_be_held_is_cut_and_told()
    {
        var path = folder.Wav(48000, 1);
        var small = new SoundOptions { Limits = AudioLimits.Default with { MostSamples = 48000 } };
        var read = Read(path, small);
        Assert.Equal(48000, read.Value.Samples.Length);
        Assert.Contains("is longer than", read.Problems.Single().What);
        var brief = new SoundOptions { Limits = AudioLimits.Default with { LongestHours = 1.0 / 3600 } };
        Assert.Contains("is longer than", Read(path, brief).Problems.Single().What);
    }

    private static Outcome<Recording> Read(string path, SoundOptions? options = null) => SoundFile.Read(path, options, TestContext.Current.CancellationToken);

    private float[] Truth(int rate, int channels) => Read(folder.Wav(rate, channels)).Value.Samples.ToArray();

    private static Problem Refusal(string path)
    {
        var read = SoundFile.Open(path, cancel: TestContext.Current.CancellationToken);
        Assert.False(read.Succeeded);
        return read.Problems.First(p => p.Severity == Severity.Error);
    }
}
