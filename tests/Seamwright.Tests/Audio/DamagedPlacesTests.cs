using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Audio;

/// <summary>Where a damaged file is damaged, and what is said of it.</summary>
public class DamagedPlacesTests(SoundFolder folder) : IClassFixture<SoundFolder>
{
    public static TheoryData<string, string, int, int> Flacs => new()
    {
        { "mono.flac", "flac", 48000, 1 },
        { "stereo.flac", "flac -sample_fmt s32", 44100, 2 },
        { "small.flac", "flac -frame_size 512", 44100, 1 },
    };

    [Theory]
    [MemberData(nameof(Flacs))]
    public void A_flac_that_is_damaged_in_its_middle_keeps_its_time(string name, string encoder, int rate, int channels)
    {
        var whole = Samples(folder.Encoded(name, rate, channels, encoder.Split(' ')));
        var read = Read(Scratched(name, encoder, rate, channels));
        var heard = read.Value.Samples.ToArray();
        Assert.Equal(whole.Length, heard.Length);
        Assert.Equal(whole[(whole.Length * 3 / 4)..], heard[(whole.Length * 3 / 4)..]);
        Assert.InRange(whole.Zip(heard).Count(x => x.First != x.Second) / (double)rate, 0.005, 0.4);
        var problem = Assert.Single(read.Problems, p => p.Severity == Severity.Warning);
        Assert.StartsWith("is damaged at ", problem.What);
        Assert.Contains("Silence stands for the ", problem.Hint);
    }

    [Fact]
    public void Frames_of_a_flac_that_are_missing_altogether_are_noticed_by_their_numbers()
    {
        var path = folder.Encoded("small.flac", 44100, 1, "flac", "-frame_size", "512");
        var (whole, bytes) = (Samples(path), File.ReadAllBytes(path));
        var (from, to) = (bytes.Length * 4 / 10, bytes.Length * 5 / 10);
        var read = Read(folder.Write("hole.flac", [.. bytes[..from], .. bytes[to..]]));
        Assert.Equal(whole.Length, read.Value.Samples.Length);
        Assert.Equal(whole[(whole.Length * 2 / 3)..], read.Value.Samples.ToArray()[(whole.Length * 2 / 3)..]);
    }

    [Fact]
    public void A_flac_that_is_cut_is_whole_as_far_as_it_goes()
    {
        var bytes = File.ReadAllBytes(folder.Encoded("mono.flac", 48000, 1, "flac"));
        var read = Read(folder.Write("half.flac", bytes[..(bytes.Length / 2)]));
        Assert.Empty(read.Value.Damage);
        Assert.StartsWith("breaks off", Assert.Single(read.Problems).What);
        Assert.DoesNotContain("not known", read.Problems[0].Hint);
    }

    [Fact]
    public void A_flac_that_is_whole_is_not_copied()
    {
        var before = Directory.GetFiles(Path.GetTempPath(), "tmp*.tmp").Length;
        Assert.Empty(Read(folder.Encoded("mono.flac", 48000, 1, "flac")).Problems);
        Assert.Empty(Read(folder.Encoded("mono.flac", 48000, 1, "flac")).Value.Damage);
        Assert.True(Directory.GetFiles(Path.GetTempPath(), "tmp*.tmp").Length <= before + 5, "others may write there too");
    }

    [Theory]
    [InlineData("take.mp3", "libmp3lame -b:a 128k", true)]
    [InlineData("take.ogg", "libvorbis -q:a 5 -page_duration 100000", true)]
    [InlineData("take.opus", "libopus -b:a 96k -page_duration 100000", true)]
    [InlineData("mono.flac", "flac", false)]
    public void What_silence_stands_for_is_known_by_its_place(string name, string encoder, bool isManaged)
    {
        var options = isManaged ? new SoundOptions { Decoder = DecoderChoice.Managed, Ffmpeg = "" } : null;
        var path = folder.Encoded(name, 48000, 1, encoder.Split(' '));
        var whole = Read(path, options);
        var read = Read(Scratched(name, encoder, 48000, 1), options);
        Assert.Empty(whole.Value.Damage);
        Assert.NotEmpty(read.Value.Damage);
        var (a, b) = (whole.Value.Samples.ToArray(), read.Value.Samples.ToArray());

        // A decoder takes up to 80 ms to find back (RFC 7845, section 4.6).
        for (var i = 0; i < a.Length; i++)
        {
            if (Math.Abs(a[i] - b[i]) > 0.05) Assert.Contains(read.Value.Damage, d => i / 48000.0 >= d.Start.Value - 0.08 && i / 48000.0 <= d.End.Value + 0.08);
        }

        Assert.All(read.Value.Damage, d => Assert.InRange((d.End - d.Start).Value, 0, 0.5));
    }

    [Fact]
    public void Of_a_damaged_mp3_nothing_is_advised_that_would_not_help()
    {
        var said = string.Join(" ", Read(Scratched("take.mp3", "libmp3lame -b:a 128k", 48000, 1)).Problems);
        Assert.Contains("the program's own MP3 decoder", said);
        Assert.DoesNotContain("ffmpeg", said);
        Assert.Contains("install ffmpeg", string.Join(" ", Read(folder.Encoded("take.mp3", 48000, 1, "libmp3lame", "-b:a", "128k"), new SoundOptions { Ffmpeg = "" }).Problems));
    }

    [Fact]
    public void Where_a_decoder_cannot_say_what_is_damaged_all_exact_silence_inside_the_sound_is()
    {
        var wav = folder.Wav(48000, 1);

        // A program that gives this sound and complains.
        var script = folder.Path("complains");
        File.WriteAllText(script, $"#!/bin/sh\nffmpeg -v quiet -i '{wav}' -af \"volume=0:enable='between(t,1.25,1.3333)'\" -c:a pcm_f32be -f au pipe:1\necho 'invalid data' >&2\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(script, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        OutsideCoder.Need("flac");
        var read = Read(folder.Encoded("take.m4a", 48000, 1, "aac", "-b:a", "96k"), new SoundOptions { Ffmpeg = script });
        var span = Assert.Single(read.Value.Damage);
        Assert.Equal(1.25, span.Start.Value, 0.06);
        Assert.Equal(1.3333, span.End.Value, 0.06);
        Assert.Contains("Where sound is missing is not known", string.Join(" ", read.Problems));
    }

    private string Scratched(string name, string encoder, int rate, int channels)
    {
        var bytes = File.ReadAllBytes(folder.Encoded(name, rate, channels, encoder.Split(' ')));
        bytes.AsSpan(bytes.Length * 4 / 10, 600).Fill(0x55);
        return folder.Write($"scratched-{rate}-{channels}-{name}", bytes);
    }

    private static float[] Samples(string path) => Read(path).Value.Samples.ToArray();

    private static Outcome<Recording> Read(string path, SoundOptions? options = null) => SoundFile.Read(path, options, TestContext.Current.CancellationToken);
}
