using System.Text.RegularExpressions;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;
using Seamwright.Tests;

namespace Seamwright.BrowserTests;

/// <summary>Recordings of our own voice for the workbench.</summary>
internal static class InventedTakes
{
    private const string Melody = "paper-boats";

    // Of our own voice: what is proved here is the way from microphone to page, not the ear.
    public static readonly Lazy<(Plan Plan, int Fault, string Wav, double Seconds)> Faulty = new(() =>
    {
        using var file = File.OpenRead(Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies", Melody + ".musicxml"));
        var score = MusicXmlReader.Read(file, Melody).Value;
        var plan = Planner.Plan(Unfolder.Play(PartChooser.Choose(score, Catalogue.Default).Value, score.Title).Value, Catalogue.Default).Value;
        var change = plan.Changes.First(c => c.Kind == ChangeKind.SoftTongue && FaultAmounts.Applies(Fault.StoppedAir, c)).Index;
        var sound = Voice.Render(plan, Playing.WithFaults(plan, new Dictionary<int, Fault> { [change] = Fault.StoppedAir }) with { LeadIn = new(1.5) });
        var wav = Path.Combine(Directory.CreateTempSubdirectory("seamwright-microphone").FullName, "take.wav");
        using var output = File.Create(wav);
        Audio.WavFile.Write(output, new Recording(sound.Samples, sound.Rate));
        return (plan, change, wav, sound.Samples.Length / (double)sound.Rate.Value);
    });

    /// <summary>Each soft tongue with another fault, one of two.</summary>
    public static byte[] Many()
    {
        var plan = Faulty.Value.Plan;
        var soft = plan.Changes.Where(c => c.Kind == ChangeKind.SoftTongue && FaultAmounts.Applies(Fault.StoppedAir, c)).Select(c => c.Index);
        var faults = soft.Select((c, i) => (c, Fault: i % 2 == 0 ? Fault.StoppedAir : Fault.NoTongue)).ToDictionary(x => x.c, x => x.Fault);
        var sound = Voice.Render(plan, Playing.WithFaults(plan, faults));
        return Wav(new Recording(sound.Samples, sound.Rate));
    }

    /// <summary>A faulty take twice, the same broken off, and silence.</summary>
    public static IEnumerable<byte[]> Each()
    {
        var whole = Audio.SoundFile.Read(Faulty.Value.Wav, cancel: TestContext.Current.CancellationToken).Value;
        ReadOnlyMemory<float>[] all = [whole.Samples, whole.Samples, whole.Samples[..(int)(0.4 * whole.Samples.Length)], new float[5 * whole.Rate.Value]];
        return all.Select(s => Wav(new Recording(s, whole.Rate)));
    }

    /// <summary>Brings takes of the melody, as from a telephone.</summary>
    public static async Task BringAsync(OpenWorkbench workbench, IEnumerable<byte[]> takes)
    {
        var stop = TestContext.Current.CancellationToken;
        using var client = new HttpClient { BaseAddress = new Uri(workbench.Address) };
        client.DefaultRequestHeaders.Add("Origin", workbench.Address);
        var piece = Regex.Match(await client.GetStringAsync("/", stop), $"/music/(\\d+)\">{Faulty.Value.Plan.Line.Title}<").Groups[1].Value;
        foreach (var wav in takes)
        {
            using var form = new MultipartFormDataContent { { new ByteArrayContent(wav), "sound", "what a telephone called a take for the second lesson of the week.wav" } };
            var answer = await client.PostAsync($"/music/{piece}/takes/bring", form, stop);
            Assert.True(answer.IsSuccessStatusCode, $"{answer.StatusCode}: {await answer.Content.ReadAsStringAsync(stop)}");
        }
    }

    private static byte[] Wav(Recording recording)
    {
        using var wav = new MemoryStream();
        Audio.WavFile.Write(wav, recording);
        return wav.ToArray();
    }
}
