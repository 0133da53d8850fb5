using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Tests.Diagnoses;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>A play-along or a drone from a loudspeaker beside the player: it is found and named, and what it may have made or hidden is withheld.</summary>
public sealed class CompanyTests(CompanyTests.Played played) : IClassFixture<CompanyTests.Played>
{
    private static readonly Verdict[] Settled = [Verdict.Clean, Verdict.CannotTell];

    [Fact]
    public void A_player_alone_has_no_company()
    {
        Assert.DoesNotContain(played.Alone.Problems, p => p.What.Contains("another sound"));
        Assert.DoesNotContain(played.Alone.Changes, c => c.Doubts.Contains(Doubt.OtherSound) || c.IsCovered);
    }

    [Fact] // What is left beside the harmonics of a note that is all the way is its own.
    public void Long_slow_slides_have_no_company()
    {
        var order = new ExerciseOrder { Kind = "slide-then-tongue", Positions = (1, 5) };
        var plan = ExerciseMaker.Make(order, Pupil.Of(Catalogue.Find("tenor-f")!, level: 4)).Value.Exercises[0].Plan;
        var sound = Voice.Render(plan, FaultOrder.Clean.On(plan));
        Assert.DoesNotContain(Listener.Listen(new Recording(sound.Samples, sound.Rate), plan).Problems, p => p.What.Contains("another sound"));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(20)]
    public void A_drone_is_named_with_its_pitch_and_makes_no_verdict(double below)
    {
        var take = Listener.Listen(played.With(t => Tone(130.81, t), below), played.Plan);
        var told = Assert.Single(take.Problems, p => p.What.Contains("another sound"));
        Assert.Contains("131 Hz", told.What);
        Assert.Contains("headphones", told.Hint);
        Assert.All(NewIn(take), Assert.Empty);
        Assert.Contains(Judged(take).Changes, c => c.Findings.Any(f => f.Verdict == Verdict.CannotTell && f.Basis.Contains("another sound")));
    }

    [Fact]
    public void The_same_notes_played_along_are_found_and_make_no_verdict()
    {
        var take = Listener.Listen(played.With(played.Along(), 15), played.Plan);
        Assert.Contains("the same notes are played along", Assert.Single(take.Problems, p => p.What.Contains("another sound")).What);
        Assert.Contains(take.Changes, c => c.Doubts.FirstOrDefault() == Doubt.OtherSound);
        Assert.All(NewIn(take), Assert.Empty);
    }

    [Theory]
    [InlineData(8, -20)]
    [InlineData(-12, -14)]
    public void A_second_tone_a_few_cents_off_is_read_in_cents_and_decibels(double cents, double db)
    {
        var found = Read(t => Tone(174.6, t) + (Math.Pow(10, db / 20) * Tone(174.6 * Math.Pow(2, cents / 1200), t + 0.3)));
        Assert.InRange(found.Cents, cents - 1, cents + 1);
        Assert.InRange(found.Db, db - 2, db + 1);
        Assert.True(found.Share > 0.6 && found.Mirror < 0.1, found.ToString());
    }

    [Theory] // Vibrato, and a swelling and fading four times a second.
    [InlineData(15, 0)]
    [InlineData(0, 0.3)]
    public void A_swing_of_pitch_or_level_is_no_second_tone(double cents, double swell)
    {
        var found = Read(t => (1 + (swell * Math.Sin(8 * Math.PI * t))) * Tone(174.6, t + (cents / 1200 * Math.Log(2) / (11 * Math.PI) * Math.Sin(11 * Math.PI * t))));
        Assert.False(found.Share > 0.35 && found.Mirror < 0.1 && found.Seen > -30, found.ToString());
    }

    [Fact]
    public void A_line_between_a_notes_harmonics_is_found_and_its_own_are_not()
    {
        var store = Stored(t => Tone(116.54, t) + (0.05 * Math.Sin(2 * Math.PI * 300 * t)), 0.8);
        var lines = new StrayLines(store).Of(0, 0.8, 116.54, -20, [])!;
        var (hz, power) = Assert.Single(lines.Lines, l => l.Power > 1e-8);
        Assert.InRange(hz, 299.5, 300.5);
        Assert.InRange(10 * Math.Log10(power), -30.5, -28);
        Assert.False(lines.Shows(233));
        Assert.DoesNotContain(new StrayLines(store).Of(0, 0.8, 116.54, -20, [300])!.Lines, l => l.Power > 1e-8);
    }

    private IEnumerable<IEnumerable<Verdict>> NewIn(Take take)
    {
        var (heard, alone) = (Judged(take), Judged(played.Alone));
        return heard.Changes.Select(c => c.Verdicts.Except(alone.Changes[c.Index].Verdicts).Except(Settled));
    }

    private Core.Diagnosis.Diagnosis Judged(Take take) => Diagnostician.Judge(take, played.Plan);

    private static Unison Read(Func<double, double> sound) => new UnisonReader(Stored(sound, 0.9)).Of(0, 0.9, 174.6)!.Value;

    private static SampleStore Stored(Func<double, double> sound, double seconds)
    {
        var store = new SampleStore();
        store.Append(Enumerable.Range(0, (int)(seconds * FinePitch.Rate)).Select(i => (float)sound(i / (double)FinePitch.Rate)).ToArray());
        return store;
    }

    private static double Tone(double hz, double t) => Enumerable.Range(1, 8).Sum(k => 0.1 / k * Math.Sin((2 * Math.PI * hz * k * t) + (k * k)));

    /// <summary>The first half minute of an invented melody, played with faults by the simple source.</summary>
    public sealed class Played
    {
        private const double Seconds = 30;

        public Played()
        {
            Plan = PlayedMelody.Of("evening-ferry").Plan;
            var soft = Plan.Changes.Where(c => c.Kind == ChangeKind.SoftTongue).Select(c => c.Index).ToList();
            var faults = new Dictionary<int, Fault> { [soft[1]] = Fault.StoppedAir, [soft[3]] = Fault.HardTongue, [soft[5]] = Fault.LateTongue, [soft[7]] = Fault.Smeared };
            Sound = Beginning(SimpleSource.Render(Plan, Playing.WithFaults(Plan, faults)));
            Alone = Listener.Listen(Sound, Plan);
        }

        internal Plan Plan { get; }

        internal Recording Sound { get; }

        internal Take Alone { get; }

        /// <summary>The same line played clean, 30 ms later and not quite as well in tune.</summary>
        internal Func<double, double> Along()
        {
            var playing = Playing.WithFaults(Plan, new Dictionary<int, Fault>());
            var cents = playing.Cents.Select((c, i) => c + new Core.Units.Cents(9 * ((i % 3) - 1.2)));
            var other = Beginning(SimpleSource.Render(Plan, playing with { Cents = [.. cents] }, SimpleSourceSettings.Default with { Seed = 99 }));
            return t => t < 0.03 ? 0 : other.Samples.Span[Math.Min(other.Samples.Length - 1, (int)((t - 0.03) * other.Rate.Value))];
        }

        /// <summary>The player's take with another sound so many decibels below it.</summary>
        internal Recording With(Func<double, double> other, double below)
        {
            var (mine, rate) = (Sound.Samples.ToArray(), Sound.Rate.Value);
            var theirs = Enumerable.Range(0, mine.Length).Select(i => other(i / (double)rate)).ToArray();
            var gain = Math.Sqrt(mine.Average(x => x * x) / theirs.Average(x => x * x)) * Math.Pow(10, -below / 20);
            return new Recording(mine.Select((x, i) => (float)(x + (gain * theirs[i]))).ToArray(), Sound.Rate);
        }

        private static Recording Beginning(SoundedTake take) => new(take.Samples[..(int)(Seconds * take.Rate.Value)], take.Rate);
    }
}
