using Seamwright.Audio;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Listening;

/// <summary>A real trombone: labelled phrases of one orchestral player (Philharmonia Orchestra sound samples, CC BY-SAA 3.0 Unported).</summary>
public class AttemptRecordedTests
{
    private static readonly string[] Labels = ["legato", "tenuto", "tongued-slur", "nonlegato", "staccato"];
    private static readonly int[] Phrase = [58, 59, 58, 59, 56, 59, 55, 60, 55, 55, 62, 55, 54, 62, 54, 53, 64, 53, 65, 53];

    [Fact]
    public void Five_articulations_in_one_file_are_five_attempts()
    {
        var take = Listener.Listen(Joined(Labels), PlanOf(0));
        Assert.Equal(5, take.Attempts.Length);
        Assert.All(take.Attempts, a => Assert.True(a.NotesFound >= 19, $"{a.NotesFound} of 20 at {a.Start}"));
    }

    [Theory]
    [InlineData(12)]
    [InlineData(5)]
    [InlineData(-3)]
    [InlineData(-12)]
    public void A_real_phrase_is_known_in_another_key(int asked)
    {
        var take = Listener.Listen(Joined(["legato", "tenuto"]), PlanOf(asked));
        Assert.Equal(2, take.Attempts.Length);
        Assert.All(take.Attempts, a => Assert.Equal(-asked, a.Transposition));
        Assert.All(take.Attempts, a => Assert.True(a.NotesFound >= 18, $"{a.NotesFound} of 20 at {a.Start}"));
    }

    [Theory] // The middle note is hardly held: half of what belongs to it is on its way.
    [InlineData("A4", "A3:1 C4:1 A3:1")]
    [InlineData("C4", "C3:1 Eb3:1 C3:1")]
    public void A_real_glissando_is_known_by_its_part(string name, string notes)
    {
        var plan = Planner.Plan(TestLines.Of(notes.Replace(":1 ", ":1~ ", StringComparison.Ordinal), 90), Catalogue.Find("tenor-f")!).Value;
        var take = Listener.Listen(new Recording(Recorded($"trombone_{name}_phrase_forte_glissando.mp3").ToArray(), new SampleRate(44100)), plan);
        Assert.All(take.Notes, n => Assert.True(n.Found));
        Assert.All(Diagnostician.Judge(take, plan).Changes, c => Assert.Contains(Verdict.Smear, c.Verdicts));
    }

    private static Plan PlanOf(int higher) =>
        Planner.Plan(TestLines.Of(string.Join(' ', Phrase.Select(m => Pitch.FromMidi(m + higher) + "~")), 187), Catalogue.Find("bass-independent")!).Value;

    private static Recording Joined(string[] labels)
    {
        var all = new List<float>();
        foreach (var label in labels)
        {
            all.AddRange(Recorded($"trombone_As3_phrase_mezzo-forte_{label}.mp3"));
            all.AddRange(new float[44100]);
        }

        return new(all.ToArray(), new SampleRate(44100));
    }

    private static ReadOnlySpan<float> Recorded(string name)
    {
        var path = Path.Combine(Repository.Root, "..", "shared", "sounds", name);
        if (!File.Exists(path)) Assert.Skip($"{name} is not beside this checkout.");
        using var wav = new MemoryStream(OutsideProgram.Run("ffmpeg", "-v", "error", "-i", path, "-f", "wav", "-c:a", "pcm_s16le", "-").Well().Output);
        return WavFile.Read(wav, name).Value.Samples.Span;
    }
}
