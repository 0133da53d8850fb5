using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Making;

/// <summary>NAME.wav, NAME.json and NAME.csv.</summary>
internal static class TakeWriter
{
    public static void Write(string folder, MadeTake take)
    {
        var path = Path.Combine(folder, take.Truth.Name);
        using (var stream = File.Create(path + ".wav"))
            WavFile.Write(stream, new Recording(take.Samples, new SampleRate(take.Rate)), WavFormat.Pcm16, (uint)take.Truth.Name.Length);
        take.Truth.Write(path + ".json");
        take.Curves.WriteCsv(path + ".csv", take.Truth.Notes);
    }

    public static Recording ReadWav(string path)
    {
        using var stream = File.OpenRead(path);
        return WavFile.Read(stream, Path.GetFileName(path)).Value;
    }
}
