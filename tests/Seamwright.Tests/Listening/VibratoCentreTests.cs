using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.Tests.Sound.PlayAlong;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>A whole take is made to swing in pitch, by reading it faster and more slowly: each note's pitch is then known from the take at rest.</summary>
public class VibratoCentreTests
{
    private const int Rate = 16_000;
    private static readonly Plan Asked = Planner.Plan(TestLines.Of("Bb3:2~ C4 D4 Eb4~ F4:2~ Eb4 D4:3~ C4 Bb3:3/2~ D4:3/2 F4~ D4:3~ Bb3 C4 Bb3:3", 100), Catalogue.Find("tenor-f")!).Value;

    [Theory]
    [InlineData(15, 5.5)]
    [InlineData(25, 4.5)]
    [InlineData(38, 5)]
    [InlineData(50, 5)]
    [InlineData(60, 5.5)]
    public void Long_and_short_notes_keep_their_pitch_under_a_vibrato(double cents, double swings)
    {
        var still = Played();
        var (rest, heard) = (Heard(still), Heard(Swung(still, cents, swings)));
        Assert.True(heard.Notes.Count(n => n.Vibrato is null) >= 5);
        for (var i = 0; i < rest.Notes.Length; i++)
        {
            Assert.Equal(rest.Notes[i].Cents!.Value.Value, heard.Notes[i].Cents!.Value.Value, 5.0);
            var bounds = heard.Notes[i].CentsBounds!.Value;
            Assert.InRange(rest.Notes[i].Cents!.Value.Value, bounds.Low.Value - 0.5, bounds.High.Value + 0.5);
        }

        Assert.DoesNotContain(Diagnostician.Judge(heard, Asked).Notes, n => n.Verdicts.Contains(Verdict.OutOfTune));
    }

    [Theory]
    [InlineData(35, 5.5)]
    [InlineData(40, 5)]
    public void A_wide_vibratos_side_lines_are_no_second_player(double cents, double swings)
    {
        var plan = Parts.Of(Parts.Melody("low-tide"));
        var take = Voice.Render(plan, Playing.Clean(plan), new VoiceSettings { Rate = new(44_100) });
        Assert.DoesNotContain(Listener.Listen(new Recording(Swung(take.Samples.ToArray(), cents, swings, 44_100), new(44_100)), plan).Changes, c => c.Doubts.Contains(Doubt.OtherSound));
    }

    [Theory]
    [InlineData(12, 4.5, 0)]
    [InlineData(30, 5, 0)]
    [InlineData(30, 5, 0.12)] // the swing's own rate wanders, as players' do
    [InlineData(45, 6.5, 0.12)]
    public void How_far_and_how_often_a_long_note_swings_is_told(double cents, double swings, double wander)
    {
        var plan = Planner.Plan(TestLines.Of("F3:6", 60), Catalogue.Default).Value;
        var still = SimpleSource.Render(plan, Playing.Clean(plan), new SimpleSourceSettings { Rate = new(Rate) }).Samples.ToArray();
        var vibrato = Listener.Listen(new Recording(Swung(still, cents, swings, wander: wander), new SampleRate(Rate)), plan).Notes[0].Vibrato!.Value;
        Assert.Equal(cents, vibrato.Extent.Value, 0.1 * cents);
        Assert.Equal(swings, vibrato.Rate.Value, 0.3);
    }

    [Theory] // Two notes a semitone apart, by turns, as fast as a vibrato.
    [InlineData(100, true)]
    [InlineData(132, true)]
    [InlineData(100, false)]
    [InlineData(132, false)]
    public void Quick_notes_by_turns_are_no_vibrato(double tempo, bool slurred)
    {
        var join = slurred ? "~" : "";
        var plan = Planner.Plan(TestLines.Of($"Bb2:2 {string.Concat(Enumerable.Repeat($"E3:1/4{join} F3:1/4{join} ", 8))}Bb2:2", tempo), Catalogue.Default).Value;
        var sound = Voice.Render(plan, Playing.Clean(plan));
        var take = Listener.Listen(new Recording(sound.Samples, sound.Rate), plan);
        Assert.All(take.Notes, n => Assert.True(n.Found));
        Assert.All(take.Notes, n => Assert.Null(n.Vibrato));
    }

    [Theory] // A long tone that sags or rises while it is held is still the tone that was asked for.
    [InlineData(50)]
    [InlineData(-50)]
    public void A_long_tone_that_drifts_is_found(double cents)
    {
        var plan = Planner.Plan(TestLines.Of("Bb3:4", 96), Catalogue.Default).Value;
        var (sound, phase) = (new float[4 * Rate], 0.0);
        for (var i = 0; i < sound.Length; i++)
        {
            var t = (double)i / Rate;
            phase += 2 * Math.PI * 233.08 * Math.Pow(2, cents / 1200 * Math.Clamp((t - 1) / 1.5, 0, 1)) / Rate;
            sound[i] = t is < 0.5 or > 3 ? 0 : (float)(0.1 * (Math.Sin(phase) + Math.Sin(2 * phase) + (0.5 * Math.Sin(3 * phase))));
        }

        var note = Listener.Listen(new Recording(sound, new SampleRate(Rate)), plan).Notes[0];
        Assert.True(note.Found);
        Assert.InRange(note.Drift!.Value.Value / cents, 0.5, 1.5);
    }

    [Fact]
    public void A_take_at_rest_has_none() => Assert.All(Heard(Played()).Notes, n => Assert.Null(n.Vibrato));

    private static float[] Played() => SimpleSource.Render(Asked, Playing.Clean(Asked), new SimpleSourceSettings { Rate = new(Rate), Level = new(-20), Seed = 3 }).Samples.ToArray();

    private static Take Heard(float[] sound) => Listener.Listen(new Recording(sound, new SampleRate(Rate)), Asked);

    private static float[] Swung(float[] sound, double cents, double swings, int rate = Rate, double wander = 0)
    {
        var swung = new List<float>(sound.Length);
        var (at, phase) = (0.0, 0.0);
        while (at < sound.Length - 2)
        {
            var i = (int)at;
            swung.Add((float)(sound[i] + ((at - i) * (sound[i + 1] - sound[i]))));
            at += Math.Pow(2, cents / 1200 * Math.Sin(phase));
            phase += 2 * Math.PI * swings / rate * (1 + (wander * Math.Sin(2 * Math.PI * 0.7 * swung.Count / rate)));
        }

        return [.. swung];
    }
}
