using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Tests.Cli;
using Seamwright.Tests.Scores;

namespace Seamwright.Tests.Sound.PlayAlong;

/// <summary>Plans and schedules for play-along tests.</summary>
internal static class Parts
{
    public static Plan Of(Part part, double? tempo = null, Instrument? horn = null) =>
        Planner.Plan(Unfolder.Play(part, "test", tempo).Value, horn ?? Catalogue.Default).Value;

    /// <summary>One of the invented melodies.</summary>
    public static Part Melody(string name)
    {
        using var file = File.OpenRead(CommandLine.Melody(name));
        return MusicXmlReader.Read(file, name).Value.Parts[0];
    }

    /// <summary>Measures of the bass clef with a tempo of 60, divisions 12.</summary>
    public static Part Written(string time, params string[] measures)
    {
        var (beats, unit) = (time.Split('/')[0], time.Split('/')[1]);
        var start = $"<attributes><divisions>12</divisions><time><beats>{beats}</beats><beat-type>{unit}</beat-type></time><clef><sign>F</sign><line>4</line></clef></attributes><sound tempo=\"60\"/>";
        return Files.ReadPart([.. measures.Select((m, i) => i > 0 ? m : m.StartsWith("<measure", StringComparison.Ordinal) ? m.Replace("START", start, StringComparison.Ordinal) : start + m)]);
    }

    public static Schedule Schedule(Part part, PlayAlongSettings settings, params double[] tempos) =>
        PlayAlongMaker.LayOut([.. (tempos.Length == 0 ? [60.0] : tempos).Select(t => Of(part, t))], settings).Value;

    /// <summary>A whole feed.</summary>
    public static float[] All(SoundFeed feed, int block = 4096)
    {
        var samples = new List<float>();
        var buffer = new float[block];
        for (var read = feed.Read(buffer); read > 0; read = feed.Read(buffer)) samples.AddRange(buffer.AsSpan(0, read));
        return [.. samples];
    }

    /// <summary>Amplitude of one frequency by a Hann-windowed projection.</summary>
    public static double Amplitude(ReadOnlySpan<float> samples, double rate, double frequency)
    {
        double re = 0, im = 0, weight = 0;
        for (var i = 0; i < samples.Length; i++)
        {
            var w = 0.5 - (0.5 * Math.Cos(2 * Math.PI * i / samples.Length));
            re += w * samples[i] * Math.Cos(2 * Math.PI * frequency * i / rate);
            im += w * samples[i] * Math.Sin(2 * Math.PI * frequency * i / rate);
            weight += w;
        }

        return 2 * Math.Sqrt((re * re) + (im * im)) / weight;
    }

    /// <summary>The frequency near a guess where the projection is greatest.</summary>
    public static double Peak(float[] samples, double rate, double guess)
    {
        var (low, high) = (guess * 0.985, guess * 1.015);
        for (var i = 0; i < 40; i++)
        {
            var (a, b) = (low + ((high - low) * 0.382), low + ((high - low) * 0.618));
            if (Amplitude(samples, rate, a) > Amplitude(samples, rate, b)) high = b;
            else low = a;
        }

        return (low + high) / 2;
    }
}
