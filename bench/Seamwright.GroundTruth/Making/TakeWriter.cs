using Seamwright.Audio;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Making;

/// <summary>NAME.wav, NAME.json and NAME.csv.</summary>
internal static class TakeWriter
{
    /// <exception cref="InvalidOperationException">A sample lies beyond full scale: the truth would not hold.</exception>
    public static void Write(string folder, MadeTake take)
    {
        if (take.Samples.Any(s => !(Math.Abs(s) <= 1))) throw new InvalidOperationException($"{take.Truth.Name} is too loud.");
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
