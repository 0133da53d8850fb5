using System.Buffers.Binary;
using System.Diagnostics;
using System.Text;
using Seamwright.Audio;
using Seamwright.Core;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Audio;

public class WavFileTests
{
    private static readonly float[] Sine = [.. Enumerable.Range(0, 4800).Select(i => 0.5f * MathF.Sin(2 * MathF.PI * 220 * i / 48000f))];

    [Theory]
    [InlineData(WavFormat.Pcm16, 1.6 / 32768)]
    [InlineData(WavFormat.Pcm24, 1.6 / 8388608)]
    [InlineData(WavFormat.Float32, 0)]
    public void What_is_written_is_read_back_to_within_dither_and_rounding(WavFormat format, double step)
    {
        // Triangular dither reaches one step, rounding half a step more.
        var read = Read(Written(Sine, format));
        Assert.Empty(read.Problems);
        Assert.Equal(48000, read.Value.Rate.Value);
        Assert.Equal(Sine.Length, read.Value.Samples.Length);
        for (var i = 0; i < Sine.Length; i++) Assert.True(Math.Abs(Sine[i] - read.Value.Samples.Span[i]) <= step, $"sample {i}");
    }

    [Fact]
    public void The_same_seed_writes_the_same_file_and_another_seed_another()
    {
        Assert.Equal(Written(Sine, WavFormat.Pcm16, 7), Written(Sine, WavFormat.Pcm16, 7));
        Assert.NotEqual(Written(Sine, WavFormat.Pcm16, 7), Written(Sine, WavFormat.Pcm16, 8));
    }

    [Fact]
    public void Dither_keeps_a_sound_smaller_than_one_step_alive()
    {
        // 0.4 of a 16-bit step would round to nothing; its mean survives in the dithered file.
        var faint = Enumerable.Repeat(0.4f / 32768, 100_000).ToArray();
        var read = Read(Written(faint, WavFormat.Pcm16));
        Assert.Equal(0.4, read.Value.Samples.ToArray().Average(x => (double)x) * 32768, 0.02);
    }

    [Fact]
    public void Full_scale_is_kept_within_the_numbers_there_are()
    {
        float[] loud = [1, -1, 2, -2, float.NaN];
        var read = Read(Written(loud, WavFormat.Pcm16)).Value.Samples.ToArray();
        for (var i = 0; i < 4; i++) Assert.Equal(Math.Clamp(loud[i], -1, 1), read[i], 2.1f / 32768);
        Assert.Equal(0, read[4], 1.6f / 32768);
    }

    [Theory]
    [InlineData(8000, 1, "-b 8 -e unsigned-integer", 0.5 / 128)]
    [InlineData(44100, 2, "-b 16 -e signed-integer", 0.5 / 32768)]
    [InlineData(48000, 1, "-b 24 -e signed-integer", 1e-6)]
    [InlineData(96000, 2, "-b 32 -e signed-integer", 1e-6)]
    [InlineData(192000, 1, "-b 32 -e floating-point", 1e-6)]
    [InlineData(22050, 2, "-b 64 -e floating-point", 1e-6)]
    public void Files_of_an_independent_writer_are_read(int rate, int channels, string coding, double tolerance)
    {
        // Through a pipe: sox then cannot fill in the length, as a streaming recorder cannot.
        var bytes = Sox($"-n -r {rate} -c {channels} {coding} -D -t wav - synth 0.25 sine 200 gain -6.0206");
        var read = Read(bytes);
        Assert.Contains("does not say how long", Assert.Single(read.Problems).What);
        Assert.Equal(rate, read.Value.Rate.Value);
        Assert.Equal(rate / 4, read.Value.Samples.Length);
        var raw = Sox($"-n -r {rate} -c 1 -t f64 - synth 0.25 sine 200 gain -6.0206");
        for (var i = 0; i < read.Value.Samples.Length; i++)
            Assert.Equal(BinaryPrimitives.ReadDoubleLittleEndian(raw.AsSpan(8 * i)), read.Value.Samples.Span[i], tolerance);
    }

    [Fact]
    public void Adpcm_is_refused_by_its_code_and_with_a_way_out()
    {
        var problem = Refusal(Sox("-n -r 8000 -c 1 -e ima-adpcm -t wav - synth 0.1 sine 200"));
        Assert.Contains("format 17 (ADPCM)", problem.What);
        Assert.Contains("PCM", problem.Hint);
    }

    [Theory]
    [InlineData("a-law", 1)]
    [InlineData("mu-law", 1)]
    [InlineData("mu-law", 2)]
    public void The_telephones_logarithmic_samples_are_read_as_another_program_reads_them(string law, int channels)
    {
        // A quiet sound and a loud one, so that every segment of the curve is met; what they lose is the curve's step, 36 dB down.
        foreach (var gain in (string[])["-1", "-40"])
        {
            var read = Read(Sox($"-n -r 8000 -c {channels} -e {law} -D -t wav - synth 0.5 sine 200 gain {gain}")).Value;
            var raw = Sox($"-n -r 8000 -c 1 -t f64 - synth 0.5 sine 200 gain {gain}");
            var truth = Enumerable.Range(0, raw.Length / 8).Select(i => (float)BinaryPrimitives.ReadDoubleLittleEndian(raw.AsSpan(8 * i))).ToArray();
            Assert.Equal(truth.Length, read.Samples.Length);
            Assert.InRange(Likeness.Match(truth, read.Samples.ToArray()), 30, 60);
        }
    }

    [Theory]
    [InlineData("", "is empty")]
    [InlineData("ID3\u0003aaaaaaaaaaaaaa", "MP3")]
    [InlineData("fLaC0000aaaaaaaaaaa", "FLAC")]
    [InlineData("OggS0000aaaaaaaaaaa", "Ogg")]
    [InlineData("aaaaftypM4A aaaaaaa", "M4A")]
    [InlineData("RIFX0000WAVEaaaaaaa", "big-endian")]
    [InlineData("RIFF0000AVI aaaaaaa", "without sound")]
    [InlineData("Dear teacher, here is my take.", "not a WAV file")]
    [InlineData("RIFF0000WAVE", "no format chunk")]
    public void A_file_that_is_no_wav_is_named_and_told_what_to_do(string content, string says)
    {
        var problem = Refusal(Encoding.Latin1.GetBytes(content));
        Assert.Contains(says, problem.What);
        Assert.NotEmpty(problem.Hint);
    }

    [Theory]
    [InlineData(0u)]
    [InlineData(uint.MaxValue)]
    public void A_streaming_writers_open_length_is_read_to_the_end_and_told(uint size)
    {
        var bytes = Written(Sine, WavFormat.Pcm16);
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(40), size);
        var read = Read(bytes);
        Assert.Equal(Sine.Length, read.Value.Samples.Length);
        Assert.Contains("does not say how long", Assert.Single(read.Problems).What);
    }

    [Fact]
    public void A_file_that_breaks_off_is_used_as_far_as_it_goes_and_told()
    {
        var read = Read(Written(Sine, WavFormat.Pcm16)[..(44 + 4801)]);
        Assert.Equal(2400, read.Value.Samples.Length);
        Assert.Contains("promises 0.10 s and holds 0.05 s", Assert.Single(read.Problems).What);
    }

    [Fact]
    public void Rf64_with_a_64_bit_size_stops_at_its_data()
    {
        var read = Read(Rf64(Sine.Length * 2));
        Assert.Empty(read.Problems);
        Assert.Equal(Sine.Length, read.Value.Samples.Length);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Odd_and_unknown_chunks_are_stepped_over_with_or_without_their_fill_byte(bool filled)
    {
        var wav = Written(Sine, WavFormat.Pcm16);
        byte[] odd = [.. "junk"u8, 3, 0, 0, 0, 1, 2, 3, .. filled ? new byte[] { 0 } : []];
        byte[] list = [.. "LIST"u8, 4, 0, 0, 0, .. "INFO"u8];
        var read = Read([.. wav[..36], .. odd, .. list, .. wav[36..], .. list]);
        Assert.Empty(read.Problems);
        Assert.Equal(Sine.Length, read.Value.Samples.Length);
    }

    [Fact]
    public void An_extensible_header_is_read_by_its_sub_format()
    {
        var read = Read(Extensible(24, 3, 20));
        Assert.Empty(read.Problems);
        Assert.Equal(0.5f, read.Value.Samples.Span[0], 1e-6f);
    }

    [Theory]
    [InlineData(12, 2)]
    [InlineData(20, 3)]
    [InlineData(18, 4)]
    public void Bits_that_do_not_fill_their_room_are_read_by_the_room(int bits, int bytesPerSample)
    {
        // Microsoft's "Multiple channel audio data and WAVE files": samples lie at the top of their container.
        var header = Written([0f], WavFormat.Pcm16)[..44];
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(32), (ushort)bytesPerSample);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(34), (ushort)bits);
        byte[] half = [.. new byte[bytesPerSample - 1], 0x40];
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(40), 200 * bytesPerSample);
        var read = Read([.. header, .. Enumerable.Repeat(half, 200).SelectMany(b => b)]);
        Assert.Equal(200, read.Value.Samples.Length);
        Assert.All(read.Value.Samples.ToArray(), x => Assert.Equal(0.5f, x, 1e-6f));
    }

    [Fact]
    public void A_last_sample_that_is_not_whole_is_left_out_and_told()
    {
        var bytes = Written(Sine, WavFormat.Pcm16)[..(44 + 4801)];
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(40), 4801);
        var read = Read(bytes);
        Assert.Equal(2400, read.Value.Samples.Length);
        Assert.Contains("in the middle of a sample", Assert.Single(read.Problems).What);
    }

    [Theory]
    [InlineData(0, 48000, "0 channels")]
    [InlineData(6, 48000, "6 channels")]
    [InlineData(1, 7999, "7999 Hz")]
    [InlineData(1, 192001, "192001 Hz")]
    public void Channels_and_rates_beyond_the_limits_are_refused(int channels, int rate, string says)
    {
        var bytes = Written(Sine, WavFormat.Pcm16);
        BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(22), (ushort)channels);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(24), rate);
        Assert.Contains(says, Refusal(bytes).What);
    }

    [Fact]
    public void A_file_larger_than_allowed_is_refused_seekable_or_not()
    {
        var small = AudioLimits.Default with { LargestFile = 1 << 20 };
        var bytes = new byte[(1 << 20) + 1];
        Assert.Contains("larger than 1 MiB", WavFile.Read(new MemoryStream(bytes), "take.wav", small).Problems[0].What);
        Assert.Contains("larger than 1 MiB", WavFile.Read(new Trickle(bytes), "take.wav", small).Problems[0].What);
    }

    [Fact]
    public void A_silent_second_channel_is_left_out_and_told() =>
        Assert.Contains("right channel is silent", Stereo(x => (x, 0)).Problems.Single().What);

    [Fact]
    public void A_much_quieter_first_channel_is_left_out_and_told() =>
        Assert.Contains("left channel is 20 dB quieter", Stereo(x => (x / 10, x)).Problems.Single().What);

    [Fact]
    public void An_inverted_channel_is_not_added_away()
    {
        var read = Stereo(x => (x, -x));
        Assert.Contains("opposite in phase", read.Problems.Single().What);
        Assert.Equal(Sine, read.Value.Samples.ToArray());
    }

    [Fact]
    public void Two_like_channels_become_their_mean()
    {
        var read = Stereo(x => (x, x / 2));
        Assert.Empty(read.Problems);
        Assert.Equal(Sine[10] * 0.75f, read.Value.Samples.Span[10], 1e-6f);
    }

    [Fact]
    public void Samples_that_are_no_numbers_become_silence_and_are_counted()
    {
        var samples = Sine.ToArray();
        (samples[5], samples[6], samples[7]) = (float.NaN, float.PositiveInfinity, 1e30f);
        var read = Read(Written(samples, WavFormat.Float32));
        Assert.Contains("3 samples that are not numbers", read.Problems.Single().What);
        Assert.Equal([0f, 0f, 0f], read.Value.Samples[5..8].ToArray());
    }

    [Fact]
    public void Overload_is_told_with_its_first_place()
    {
        var samples = Sine.Select((x, i) => i < 2400 ? x : Math.Clamp(3 * x, -1, 1)).ToArray();
        var problem = Read(Written(samples, WavFormat.Float32)).Problems.Single();
        Assert.Contains("overloaded in", problem.What);
        Assert.Contains("first at 0.05 s", problem.What);
    }

    [Fact]
    public void Silence_and_faintness_are_told()
    {
        Assert.Contains("is silent", Read(Written(new float[4800], WavFormat.Float32)).Problems.Single().What);
        Assert.Contains("very faint", Read(Written([.. Sine.Select(x => x / 300)], WavFormat.Float32)).Problems.Single().What);
    }

    [Fact]
    public void No_damage_to_a_file_makes_anything_escape()
    {
        var random = new Random(20);
        byte[][] seeds = [Written(Sine[..600], WavFormat.Pcm16), Written(Sine[..600], WavFormat.Float32), Rf64(1200), Extensible(24, 3, 24)];
        for (var round = 0; round < 4000; round++)
        {
            var bytes = (byte[])seeds[round % seeds.Length].Clone();
            var flips = 1 + random.Next(8);
            for (var i = 0; i < flips; i++) bytes[random.Next(random.Next(2) == 0 ? Math.Min(80, bytes.Length) : bytes.Length)] = (byte)random.Next(256);
            if (random.Next(3) == 0) bytes = bytes[..random.Next(bytes.Length)];
            var read = Read(bytes);
            Assert.True(read.Succeeded ? read.Value.Samples.Span.IndexOf(float.NaN) < 0 : read.Problems.All(p => p.Hint.Length > 0), $"round {round}");
        }
    }

    private static Outcome<Recording> Read(byte[] bytes) => WavFile.Read(new MemoryStream(bytes), "take.wav");

    private static Problem Refusal(byte[] bytes)
    {
        var read = Read(bytes);
        Assert.False(read.Succeeded);
        Assert.StartsWith("take.wav: ", read.Problems[0].ToString());
        return read.Problems.First(p => p.Severity == Severity.Error);
    }

    private static byte[] Written(float[] samples, WavFormat format, uint seed = 1)
    {
        using var stream = new MemoryStream();
        WavFile.Write(stream, new Recording(samples, new SampleRate(48000)), format, seed);
        return stream.ToArray();
    }

    private static Outcome<Recording> Stereo(Func<float, (float Left, float Right)> split)
    {
        var mono = Written([.. Sine.SelectMany(x => new[] { split(x).Left, split(x).Right })], WavFormat.Float32);
        BinaryPrimitives.WriteInt16LittleEndian(mono.AsSpan(22), 2);
        BinaryPrimitives.WriteInt16LittleEndian(mono.AsSpan(32), 8);
        return Read(mono);
    }

    private static byte[] Rf64(int length)
    {
        var wav = Written(Sine[..(length / 2)], WavFormat.Pcm16);
        var ds64 = new byte[36];
        "ds64"u8.CopyTo(ds64);
        ds64[4] = 28;
        BinaryPrimitives.WriteInt64LittleEndian(ds64.AsSpan(16), length);
        byte[] whole = [.. "RF64"u8, 255, 255, 255, 255, .. "WAVE"u8, .. ds64, .. wav[12..], .. "LIST"u8, 4, 0, 0, 0, .. "INFO"u8];
        BinaryPrimitives.WriteUInt32LittleEndian(whole.AsSpan(36 + 40), uint.MaxValue);
        return whole;
    }

    private static byte[] Extensible(int bits, int bytesPerSample, int validBits)
    {
        var h = new byte[68 + (3 * 200)];
        "RIFF"u8.CopyTo(h);
        BinaryPrimitives.WriteInt32LittleEndian(h.AsSpan(4), h.Length - 8);
        "WAVEfmt "u8.CopyTo(h.AsSpan(8));
        BinaryPrimitives.WriteInt32LittleEndian(h.AsSpan(16), 40);
        short[] fields = [-2, 1, unchecked((short)48000), 0, 0, 0, (short)bytesPerSample, (short)bits, 22, (short)validBits, 4, 0, 1];
        for (var i = 0; i < fields.Length; i++) BinaryPrimitives.WriteInt16LittleEndian(h.AsSpan(20 + (2 * i)), fields[i]);
        "data"u8.CopyTo(h.AsSpan(60));
        BinaryPrimitives.WriteInt32LittleEndian(h.AsSpan(64), 600);
        for (var i = 0; i < 200; i++) h[68 + (3 * i) + 2] = 0x40;
        return h;
    }

    private static byte[] Sox(string arguments)
    {
        if (!File.Exists("/usr/bin/sox")) Assert.Skip("reason: sox is missing");
        return OutsideProgram.Run(new ProcessStartInfo("/usr/bin/sox", arguments)).Well().Output;
    }

    // A stream that cannot seek and gives a little at a time, as a pipe does.
    private sealed class Trickle(byte[] bytes) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;

        public override int Read(Span<byte> buffer) => base.Read(buffer[..Math.Min(buffer.Length, 1000)]);
    }
}
