using System.Buffers.Binary;
using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>What a WAV file's format chunk says, where we can read it.</summary>
/// <param name="Samples">How a sample is coded.</param>
/// <param name="Bits">Bits a sample takes in the file.</param>
/// <param name="Channels">1 or 2.</param>
/// <param name="Rate">Hz.</param>
internal sealed record WavCoding(WavSamples Samples, int Bits, int Channels, int Rate)
{
    private const int Extensible = 0xFFFE;
    private const int Pcm = (int)WavSamples.Integer, Float = (int)WavSamples.Float;

    /// <summary>Reads the chunk; every reason why not, told at once.</summary>
    public static WavCoding? Read(ReadOnlySpan<byte> chunk, string name, AudioLimits limits, List<Problem> problems)
    {
        if (chunk.Length < 16)
        {
            problems.Add(new Problem(name, $"has a format chunk of {chunk.Length} bytes; it takes 16.", "The file is damaged: export or record it again.", Severity.Error));
            return null;
        }

        var code = CodeOf(chunk);
        var channels = BinaryPrimitives.ReadUInt16LittleEndian(chunk[2..]);
        var rate = BinaryPrimitives.ReadUInt32LittleEndian(chunk[4..]);
        var bits = ContainerBits(chunk, channels);
        var before = problems.Count;
        CheckCode(code, bits, name, problems);
        if (channels is not (1 or 2))
            problems.Add(new Problem(name, $"has {channels} channels.", "Give one microphone (mono) or two (stereo).", Severity.Error));
        if (rate < limits.LowestRate || rate > limits.HighestRate)
            problems.Add(new Problem(name, $"has a sample rate of {rate} Hz.", $"Rates from {limits.LowestRate} to {limits.HighestRate} Hz are read; 44100 or 48000 serve best.", Severity.Error));
        return problems.Count > before ? null : new WavCoding((WavSamples)code, bits, channels, (int)rate);
    }

    /// <summary>What packs the samples, where ffmpeg unpacks it and we do not; null for everything else.</summary>
    public static string? PackedName(ReadOnlySpan<byte> chunk) => chunk.Length < 16 ? null : CodeOf(chunk) switch
    {
        0x0002 or 0x0011 => "ADPCM",
        0x0031 => "GSM",
        _ => null, // MPEG in WAV does not say how much its encoder put before the sound: times would be wrong
    };

    private static int CodeOf(ReadOnlySpan<byte> chunk)
    {
        var code = BinaryPrimitives.ReadUInt16LittleEndian(chunk);

        // The sub-format's identifier begins with the plain code.
        return code == Extensible && chunk.Length >= 40 ? BinaryPrimitives.ReadUInt16LittleEndian(chunk[24..]) : code;
    }

    // 20 valid bits lie at the top of 24: what counts is the room a sample takes.
    private static int ContainerBits(ReadOnlySpan<byte> chunk, int channels)
    {
        int block = BinaryPrimitives.ReadUInt16LittleEndian(chunk[12..]), stated = BinaryPrimitives.ReadUInt16LittleEndian(chunk[14..]);
        var rounded = (stated + 7) / 8 * 8;
        if (channels == 0 || block % channels != 0) return rounded;
        var room = block / channels * 8;
        return room >= rounded && room - rounded < 16 && room > 0 ? room : rounded;
    }

    private static void CheckCode(int code, int bits, string name, List<Problem> problems)
    {
        var known = code switch
        {
            Pcm => bits is 8 or 16 or 24 or 32,
            Float => bits is 32 or 64,
            (int)WavSamples.ALaw or (int)WavSamples.MuLaw => bits is 8,
            _ => false,
        };
        if (known) return;
        var what = code switch
        {
            Pcm => $"is coded as integers of {bits} bits.",
            Float => $"is coded as float of {bits} bits.",
            _ => $"is coded in format {code}{NameOf(code)}.",
        };
        problems.Add(new Problem(name, what, "Save it as WAV PCM (8, 16, 24 or 32 bits) or float (32 or 64 bits).", Severity.Error));
    }

    // Registered codes, RFC 2361.
    private static string NameOf(int code) => code switch
    {
        0x0002 or 0x0011 => " (ADPCM)",
        0x0006 => " (A-law)",
        0x0007 => " (µ-law)",
        0x0031 => " (GSM)",
        0x0050 => " (MPEG audio)",
        0x0055 => " (MPEG layer 3)",
        0xFFFE => " (extensible, without saying which)",
        _ => "",
    };
}

/// <summary>How the samples of a WAV file are coded; the numbers are the registered ones (RFC 2361).</summary>
internal enum WavSamples
{
    Integer = 1,
    Float = 3,

    /// <summary>Eight bits, logarithmic (ITU-T G.711).</summary>
    ALaw = 6,

    /// <summary>Eight bits, logarithmic (ITU-T G.711).</summary>
    MuLaw = 7,
}
