using System.Buffers.Binary;
using System.Diagnostics;
using Seamwright.Audio;
using Seamwright.Audio.Ogg;
using Seamwright.Core;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Audio;

public class DamagedSoundTests(SoundFolder folder) : IClassFixture<SoundFolder>
{
    private static readonly SoundOptions Managed = new() { Decoder = DecoderChoice.Managed, Ffmpeg = "" };

    public static TheoryData<string, string> Kinds => new()
    {
        { "take.wav", "pcm_s16le" },
        { "take.mp3", "libmp3lame -b:a 128k" },
        { "take.ogg", "libvorbis -q:a 5" },
        { "take.opus", "libopus -b:a 96k" },
        { "take.flac", "flac" },
        { "take.m4a", "aac -movflags +faststart" },
        { "take.aac", "aac -b:a 96k" },
    };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_file_cut_in_its_middle_gives_its_first_half_and_says_where_it_stops(string name, string encoder)
    {
        var path = folder.Encoded(name, 48000, 1, encoder.Split(' '));
        var bytes = File.ReadAllBytes(path);
        var cut = Read(folder.Write("cut-" + name, bytes[..(bytes.Length * 6 / 10)]));
        var whole = Read(path).Value.Samples.ToArray();
        var half = cut.Value.Samples.ToArray();

        // Pages of Ogg hold up to a second, and a page that is cut is lost.
        Assert.InRange(half.Length / (double)whole.Length, 0.2, 0.75);
        Assert.True(Likeness.Match(whole[..(half.Length - 2400)], half[..^2400]) > 30);

        // ADTS does not say how long it is, so only a frame that is cut can be told.
        var problem = Assert.Single(cut.Problems);
        Assert.Contains($"{half.Length / 48000.0:0.00} s", problem.What);
        if (name != "take.aac") Assert.Contains("breaks off", problem.What);
        Assert.NotEmpty(problem.Hint);
    }

    [Theory]
    [InlineData("take.mp3", "libmp3lame -b:a 128k", 0.12)]
    [InlineData("take.ogg", "libvorbis -q:a 5 -page_duration 100000", 0.44)]
    [InlineData("take.opus", "libopus -b:a 96k -page_duration 100000", 0.28)]
    public void Damage_in_the_middle_becomes_silence_and_what_follows_keeps_its_time(string name, string encoder, double seconds)
    {
        var path = folder.Encoded(name, 48000, 1, encoder.Split(' '));
        var whole = Read(path, Managed).Value.Samples.ToArray();
        var bytes = File.ReadAllBytes(path);
        bytes.AsSpan(bytes.Length * 4 / 10, 600).Fill(0x55);
        var read = Read(folder.Write("scratched-" + name, bytes), Managed);
        var heard = read.Value.Samples.ToArray();
        Assert.Equal(whole.Length, heard.Length);
        Assert.Contains("is damaged at", Assert.Single(read.Problems, p => p.Severity == Severity.Warning).What);
        Assert.Equal(0, Likeness.Lag(whole[(whole.Length * 2 / 3)..], heard[(whole.Length * 2 / 3)..], 500));
        Assert.True(Likeness.Match(whole[(whole.Length * 2 / 3)..], heard[(whole.Length * 2 / 3)..]) > 40);

        // The scratch touches four pages of 107 ms, two of 100 ms or three frames of 24 ms; on top comes what a decoder takes to find back (RFC 7845, section 4.6: 80 ms).
        var differs = whole.Zip(heard).Count(x => Math.Abs(x.First - x.Second) > 0.01);
        Assert.InRange(differs / 48000.0, 0.005, seconds);
    }

    [Theory]
    [InlineData("take.ogg", "libvorbis -q:a 5 -page_duration 100000")]
    [InlineData("take.opus", "libopus -b:a 96k -page_duration 100000")]
    public void A_page_left_out_is_noticed_by_its_number(string name, string encoder)
    {
        var path = folder.Encoded(name, 48000, 1, encoder.Split(' '));
        var bytes = File.ReadAllBytes(path);
        var starts = PageStarts(bytes);
        var (from, to) = (starts[starts.Count / 2], starts[(starts.Count / 2) + 2]);
        var read = Read(folder.Write("gap-" + name, [.. bytes[..from], .. bytes[to..]]), Managed);
        Assert.Equal(Read(path, Managed).Value.Samples.Length, read.Value.Samples.Length);
        Assert.Contains("Silence stands for", Assert.Single(read.Problems).Hint);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void No_damage_makes_anything_escape_hang_or_take_the_memory(string name, string encoder)
    {
        // ffmpeg takes a process for each round, so there are fewer.
        var whole = File.ReadAllBytes(folder.Encoded(name, 48000, 2, encoder.Split(' ')));
        var isOurs = name is "take.wav" or "take.mp3" or "take.ogg" or "take.opus";
        var random = new Random(name.Length + encoder.Length);
        for (var round = 0; round < (isOurs ? 300 : 25); round++)
        {
            var bytes = Damaged(whole, random);
            if (name is "take.ogg" or "take.opus" && random.Next(3) > 0) MendChecks(bytes);
            var path = folder.Write("fuzz-" + name, bytes);
            var before = GC.GetAllocatedBytesForCurrentThread();
            var watch = Stopwatch.StartNew();
            var read = Read(path, isOurs ? Managed : null);
            var samples = read.Succeeded ? read.Value.Samples.ToArray() : [];
            Assert.True(watch.Elapsed.TotalSeconds < 20, $"round {round} took {watch.Elapsed}");

            // A minute of silence may stand for what is missing, in each of a few places.
            Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 2_000_000_000, $"round {round} took {GC.GetAllocatedBytesForCurrentThread() - before} bytes");
            Assert.True(samples.All(float.IsFinite), $"round {round}");
            Assert.True(read.Succeeded || read.Problems.Any(p => p.Severity == Severity.Error && p.Hint.Length > 0), $"round {round}");
        }
    }

    [Fact]
    public void A_false_set_up_packet_of_vorbis_cannot_ask_for_all_memory()
    {
        var bytes = File.ReadAllBytes(folder.Encoded("take.ogg", 48000, 1, "libvorbis", "-q:a", "5"));
        var book = bytes.AsSpan().IndexOf("BCV"u8);
        Assert.True(book > 0);

        // Dimensions and entries of the first book: 65,535 by 16,777,215.
        bytes.AsSpan(book + 3, 5).Fill(0xFF);
        MendChecks(bytes);
        var before = GC.GetAllocatedBytesForCurrentThread();
        var read = Read(folder.Write("greedy.ogg", bytes), Managed);
        Assert.False(read.Succeeded);
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 20_000_000);
    }

    [Fact]
    public void An_mp3_that_promises_too_much_is_told_and_read_to_its_end()
    {
        var bytes = File.ReadAllBytes(folder.Encoded("take.mp3", 44100, 1, "libmp3lame", "-b:a", "128k"));
        var info = bytes.AsSpan().IndexOf("Info"u8);
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(info + 8), 9000);
        var read = Read(folder.Write("promising.mp3", bytes), Managed);
        Assert.Contains("promises 235.0", Assert.Single(read.Problems, p => p.Severity == Severity.Warning).What);
        Assert.InRange(read.Value.Duration.Value, 2.7, 2.8);
    }

    [Fact]
    public void A_film_that_was_never_finished_is_told_as_such()
    {
        var bytes = File.ReadAllBytes(folder.Encoded("take.m4a", 48000, 1, "aac", "-b:a", "96k"));
        var read = Read(folder.Write("unfinished.m4a", bytes[..(bytes.Length / 2)]));
        Assert.Contains("never finished", read.Problems.First(p => p.Severity == Severity.Error).What);
    }

    private static Outcome<Recording> Read(string path, SoundOptions? options = null) => SoundFile.Read(path, options, TestContext.Current.CancellationToken);

    // Flipped bytes at the head or anywhere, a cut end, a stretch twice or not at all, lengths that lie.
    private static byte[] Damaged(byte[] whole, Random random)
    {
        var bytes = (byte[])whole.Clone();
        var reach = random.Next(2) == 0 ? Math.Min(300, bytes.Length) : bytes.Length;
        for (var i = random.Next(12); i >= 0; i--) bytes[random.Next(reach)] = random.Next(4) == 0 ? (byte)255 : (byte)random.Next(256);
        if (random.Next(4) == 0) bytes = bytes[..random.Next(bytes.Length)];
        if (bytes.Length > 3000 && random.Next(4) == 0)
        {
            var at = random.Next(bytes.Length - 2000);
            bytes = random.Next(2) == 0 ? [.. bytes[..(at + 2000)], .. bytes[at..]] : [.. bytes[..at], .. bytes[(at + 2000)..]];
        }

        return bytes;
    }

    private static List<int> PageStarts(byte[] bytes)
    {
        var starts = new List<int>();
        for (var at = 0; bytes.AsSpan(at).IndexOf("OggS"u8) is var next && next >= 0; at = starts[^1] + 4) starts.Add(at + next);
        return starts;
    }

    // With right check sums the lie gets past the first door.
    private static void MendChecks(byte[] bytes)
    {
        foreach (var start in PageStarts(bytes))
        {
            if (start + 27 > bytes.Length || start + 27 + bytes[start + 26] > bytes.Length) continue;
            var length = 27 + bytes[start + 26] + bytes.AsSpan(start + 27, bytes[start + 26]).ToArray().Sum(b => b);
            if (start + length > bytes.Length) continue;
            BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(start + 22), OggCrc.Of(bytes.AsSpan(start, length)));
        }
    }
}
