using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Tests.Diagnoses;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>A wall that sends the sound back: it is found, named, and what it spoils is withheld.</summary>
public sealed class EchoTests(EchoTests.Played played) : IClassFixture<EchoTests.Played>
{
    [Theory]
    [InlineData(0.040, 0.4)]
    [InlineData(0.0904, 0.25)]
    [InlineData(0.25, 0.25)]
    public void A_return_is_found_with_its_delay_and_its_level(double delay, double strength)
    {
        var echo = Of(Returned(played.Sound, (delay, strength)))!.Value;
        Assert.InRange(echo.Delay, delay - 0.0005, delay + 0.0005);
        Assert.InRange(echo.Strongest, 0.75 * strength, 1.25 * strength);
    }

    [Fact]
    public void Several_returns_are_taken_together()
    {
        var echo = Of(Returned(played.Sound, (0.06, 0.5), (0.11, 0.375), (0.19, 0.25)))!.Value;
        Assert.InRange(echo.Delay, 0.0595, 0.0605);
        Assert.InRange(echo.Last, 0.1, 0.2);
        Assert.InRange(echo.Strength, 0.5, 0.8);
    }

    [Fact]
    public void A_dry_take_has_none() => Assert.Null(Of(played.Sound));

    [Theory] // A steady tone repeats after each of its periods, as if it were sent back.
    [InlineData(58.27)]
    [InlineData(233.08)]
    public void A_tone_that_sounds_all_along_is_none(double hz)
    {
        var drone = played.Sound.Samples.ToArray().Select((x, i) => (0.3f * x) + Tone(hz, i / (double)played.Sound.Rate.Value)).ToArray();
        Assert.Null(Of(new Recording(drone, played.Sound.Rate)));
        Assert.Null(Of(new Recording(Enumerable.Range(0, 480_000).Select(i => Tone(hz, i / 48_000.0)).ToArray(), new(48_000))));
    }

    [Fact] // B flat, D and F in just tuning all repeat after 34.3 ms, as if that came back; the same chord over and over, long and exact.
    public void The_notes_of_one_chord_are_none()
    {
        var (root, rate) = (116.54, 16_000);
        double[] chord = [root, root * 5 / 4, root * 3 / 2, root * 2, root * 3 / 2, root * 5 / 4];
        var sound = Enumerable.Range(0, 60 * rate).Select(i => Tone(chord[i / rate % chord.Length], i / (double)rate) * (float)Math.Min(1, 20.0 * (i % rate) / rate)).ToArray();
        Assert.Null(Of(new Recording(sound, new(rate))));
    }

    [Fact] // As in a hall: an even decay of a second, 6 dB below the sound itself.
    public void An_even_decay_is_none()
    {
        var random = new Random(3);
        var dry = played.Sound.Samples.Span;
        var returns = Enumerable.Range(0, 700).Select(_ => random.NextDouble()).Select(t => (t, 0.053 * Math.Pow(10, -3 * t) * (random.NextDouble() < 0.5 ? -1 : 1))).ToArray();
        Assert.Null(Of(Returned(new Recording(dry[..(12 * played.Sound.Rate.Value)].ToArray(), played.Sound.Rate), returns)));
    }

    [Fact]
    public void A_take_before_a_wall_is_blamed_for_no_burst_and_no_missing_tongue()
    {
        var take = Listener.Listen(Returned(played.Sound, (0.06, 0.5), (0.11, 0.375), (0.19, 0.25)), played.Plan);
        var judged = Diagnostician.Judge(take, played.Plan);
        Assert.Contains(take.Problems, p => p.Where == "the room" && p.What.Contains("60 ms"));
        Assert.InRange(take.Room!.EchoDelay!.Value.Milliseconds, 59, 61);
        Assert.All(take.Changes.Where(c => c.Found), c => Assert.Contains(Doubt.Echo, c.Doubts));
        Assert.DoesNotContain(judged.Changes, c => c.Verdicts.Any(v => v is Verdict.Bump or Verdict.NoTongue or Verdict.Cracked));
        Assert.Contains(judged.Changes, c => c.Findings.Any(f => f.Verdict == Verdict.CannotTell && f.Basis.Contains("wall")));
    }

    private static Echo? Of(Recording recording)
    {
        var ear = new LiveEar(recording.Rate);
        ear.Push(recording.Samples.Span);
        var heard = ear.Finish();
        return EchoFinder.Of(heard.Samples, heard.Track.Hz);
    }

    private static float Tone(double hz, double t) => (float)Enumerable.Range(1, 12).Sum(k => 0.05 / k * Math.Sin((2 * Math.PI * hz * k * t) + (k * k)));

    private static Recording Returned(Recording dry, params (double Delay, double Strength)[] returns)
    {
        var heard = dry.Samples.ToArray();
        var source = dry.Samples.Span;
        foreach (var (delay, strength) in returns)
        {
            var shift = (int)Math.Round(delay * dry.Rate.Value);
            for (var i = shift; i < heard.Length; i++) heard[i] += (float)strength * source[i - shift];
        }

        return new Recording(heard, dry.Rate);
    }

    /// <summary>An invented melody, played clean by the simple source.</summary>
    public sealed class Played
    {
        public Played()
        {
            Plan = PlayedMelody.Of("evening-ferry").Plan;
            var sound = SimpleSource.Render(Plan, Playing.WithFaults(Plan, new Dictionary<int, Fault>()));
            Sound = new Recording(sound.Samples, sound.Rate);
        }

        internal Core.Planning.Plan Plan { get; }

        internal Recording Sound { get; }
    }
}
