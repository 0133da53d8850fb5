using Seamwright.Core.Diagnosis;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>A room is heard while the music goes on: no phrase of these takes ends in a silence that would show it.</summary>
public class TailReaderTests
{
    private const int Rate = 16_000;
    private const string Line = "Bb3~ C4~ D4~ Eb4~ F4~ Eb4~ D4~ C4~ Bb3~ D4~ F4~ D4~ Bb3~ C4~ Bb3";

    [Theory] // A room of 0.2 s is not heard in every take (decision 26).
    [InlineData(0.3, 10)]
    [InlineData(0.5, 8)]
    [InlineData(0.9, 12)]
    public void A_rooms_time_is_read_off_what_the_old_notes_leave_in_it(double seconds, double direct)
    {
        var read = Heard(InRoom(Played(), seconds, direct)).Room!.Reverberation;
        Assert.NotNull(read);
        Assert.InRange(read.Value.Value, seconds / 1.5, seconds * 1.5);
    }

    [Fact]
    public void Without_a_room_none_is_heard()
    {
        Assert.Null(Heard(Played()).Room!.Reverberation);
        Assert.Null(Heard(WithNoise(Played(), -45)).Room!.Reverberation);
    }

    [Fact]
    public void A_tone_held_all_along_is_no_room()
    {
        var sound = Played();
        for (var i = 0; i < sound.Length; i++) sound[i] += (float)(0.01 * Math.Sin(2 * Math.PI * 233.08 * i / Rate));
        Assert.Null(Heard(sound).Room!.Reverberation);
    }

    [Theory]
    [InlineData(0.2, 6)]
    [InlineData(0.3, 10)]
    public void Stopped_air_that_a_room_fills_is_never_called_clean(double seconds, double direct)
    {
        var plan = PlanOf();
        int[] stopped = [2, 4, 7, 10, 12];
        var performance = Playing.Clean(plan);
        performance = performance with { Changes = [.. performance.Changes.Select((c, i) => stopped.Contains(i) ? c with { Gap = new(0.05) } : c)] };
        var judged = Diagnostician.Judge(Heard(InRoom(Played(performance), seconds, direct)), plan);
        Assert.All(stopped, i => Assert.Contains(judged.Changes[i].Verdicts, v => v is Verdict.AirStopped or Verdict.CannotTell));
    }

    [Theory] // No silence is near: only whether the dip is one that a tongue makes was ever in doubt.
    [InlineData(0.3, 10)]
    [InlineData(0.4, 5)]
    public void A_tongue_before_the_arm_is_told_through_a_room(double seconds, double direct)
    {
        var plan = PlanOf();
        var soft = plan.Changes.Where(c => c.Kind == ChangeKind.SoftTongue).Select(c => c.Index).ToList();
        int[] early = [.. soft.Where((_, i) => i % 2 == 0)];
        var performance = Playing.Clean(plan);
        performance = performance with { Changes = [.. performance.Changes.Select((c, i) => early.Contains(i) ? c with { Dip = new(4.5), DipWidth = new(0.05), DipOffset = new(-0.1) } : c)] };
        var judged = Diagnostician.Judge(Heard(InRoom(Played(performance), seconds, direct)), plan);
        var told = early.Count(i => judged.Changes[i].Verdicts.Contains(Verdict.TongueEarly));
        Assert.True(told >= 0.75 * early.Length, $"{told} of {early.Length}");
        Assert.DoesNotContain(soft.Except(early), i => judged.Changes[i].Verdicts.Contains(Verdict.TongueEarly) || judged.Changes[i].Verdicts.Contains(Verdict.TongueLate));
    }

    private static Plan PlanOf() => Planner.Plan(TestLines.Of(Line, 84), Catalogue.Find("tenor-f")!).Value;

    private static Take Heard(float[] sound) => Listener.Listen(new Recording(sound, new SampleRate(Rate)), PlanOf());

    // Cut off in the last note: nothing dies away.
    private static float[] Played(Performance? performance = null)
    {
        var plan = PlanOf();
        var take = SimpleSource.Render(plan, performance ?? Playing.Clean(plan), new SimpleSourceSettings { Rate = new(Rate), Level = new(-20), Room = new(-200), Seed = 3 });
        return take.Samples.Span[..(int)((take.Truth.Notes[^1].Onset!.Value.Value + 0.4) * Rate)].ToArray();
    }

    private static float[] WithNoise(float[] sound, double db)
    {
        var random = new Random(5);
        return [.. sound.Select(x => x + (float)(Math.Pow(10, db / 20) * Math.Sqrt(3) * ((2 * random.NextDouble()) - 1)))];
    }

    // An exponentially decaying tail of noise, so many dB below the direct sound (Schroeder's model of a diffuse room).
    private static float[] InRoom(float[] dry, double seconds, double direct)
    {
        var random = new Random(7);
        var tail = new float[(int)(seconds * Rate)];
        for (var i = Rate / 500; i < tail.Length; i++) tail[i] = (float)(((2 * random.NextDouble()) - 1) * Math.Pow(10, -3.0 * i / tail.Length));
        var gain = (float)(Math.Pow(10, -direct / 20) / Math.Sqrt(tail.Sum(x => (double)x * x)));
        var wet = (float[])dry.Clone();
        for (var i = 0; i < dry.Length; i++)
        {
            var x = gain * dry[i];
            var n = Math.Min(tail.Length, dry.Length - i);
            for (var k = 0; k < n; k++) wet[i + k] += x * tail[k];
        }

        return wet;
    }
}
