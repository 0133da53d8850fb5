using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>Where the samples of a WAV file lie and how they are coded.</summary>
internal sealed record WavLayout
{
    public required WavSamples Samples { get; init; }

    /// <summary>Bits a sample takes in the file: 8, 16, 24, 32 or 64.</summary>
    public required int Bits { get; init; }

    public required int Channels { get; init; }

    public required int Rate { get; init; }

    public required long DataStart { get; init; }

    /// <summary>Bytes of whole frames.</summary>
    public required long DataLength { get; init; }

    public int BlockAlign => Channels * Bits / 8;

    public long Frames => DataLength / BlockAlign;

    /// <summary>Walks the chunks of a seekable file that begins with RIFF or RF64 and WAVE.</summary>
    /// <returns>Null, with an error among the problems, where there is nothing that can be read.</returns>
    public static WavLayout? Find(Stream file, string name, AudioLimits limits, List<Problem> problems)
    {
        var chunks = RiffChunk.Walk(file);
        var format = chunks.FirstOrDefault(c => c.Id == "fmt ");
        if (format is null || WavCoding.Read(format.Content(file, 64), name, limits, problems) is not { } coding)
        {
            if (format is null) problems.Add(new Problem(name, "has no format chunk, so nothing says how its samples are coded.", "The file is damaged: export or record it again.", Severity.Error));
            return null;
        }

        var data = chunks.FirstOrDefault(c => c.Id == "data");
        if (data is null || data.Available == 0)
        {
            problems.Add(new Problem(name, "holds no sound.", "Record it again, or check that the copy was completed.", Severity.Error));
            return null;
        }

        return Fit(coding, data, name, problems);
    }

    private static WavLayout? Fit(WavCoding coding, RiffChunk data, string name, List<Problem> problems)
    {
        var block = coding.Channels * coding.Bits / 8;
        var whole = data.Available - (data.Available % block);
        if (whole == 0)
        {
            problems.Add(new Problem(name, $"holds {data.Available} bytes of sound, less than one sample.", "Record it again.", Severity.Error));
            return null;
        }

        TellLength(coding, data, whole, name, problems);
        return new WavLayout { Samples = coding.Samples, Bits = coding.Bits, Channels = coding.Channels, Rate = coding.Rate, DataStart = data.Start, DataLength = whole };
    }

    private static void TellLength(WavCoding coding, RiffChunk data, long whole, string name, List<Problem> problems)
    {
        var perSecond = (double)coding.Rate * coding.Channels * coding.Bits / 8;
        var seconds = whole / perSecond;
        if (data.SizeUnknown)
            problems.Add(new Problem(name, "does not say how long it is, as streaming recorders leave it.", $"All {seconds:0.0} s up to its end are used.", Severity.Note));
        else if (data.Declared > data.Available)
            problems.Add(new Problem(name, $"breaks off: it promises {data.Declared / perSecond:0.00} s and holds {seconds:0.00} s.", "What is there is used; copy or record it again for the rest."));
        else if (whole != data.Available)
            problems.Add(new Problem(name, "ends in the middle of a sample.", "The last, broken sample is left out.", Severity.Note));
    }
}
