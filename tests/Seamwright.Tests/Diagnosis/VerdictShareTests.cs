using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Units;
using static Seamwright.Tests.Diagnoses.VerdictCases;

namespace Seamwright.Tests.Diagnoses;

/// <summary>How often verdicts are right, and how often they are withheld, where truths are drawn and measured with known error.</summary>
/// <remarks>Errors are normal with standard deviations that differ from case to case by a factor of two to either side, and intervals that
/// hold the truth in nine of ten cases. Their medians are what the ear is asked to reach: glide 4 ms, dip 0.7 dB, its width 5 ms,
/// tongue 5 ms; a standard deviation is 1.48 times a median error.</remarks>
public class VerdictShareTests
{
    private const int Cases = 4000;
    private const double Reach90 = 1.645;

    [Fact]
    public void Smears_are_called_right_in_97_of_100_answers_and_withheld_in_at_most_10()
    {
        var score = Score(1, Verdict.Smear, (r, i) =>
        {
            var semitones = 1 + (i % 5);
            var truth = 10 + (310 * r.NextDouble());
            var (value, low, high) = Measured(r, truth, 4 * 1.48);
            var heard = Fine() with { GlideSemitones = -semitones, AudibleGlide = Ms(value), AudibleGlideBounds = MsBounds(low, high) };
            return (heard, truth > Math.Max(50, 160.0 / semitones));
        });
        Assert.True(score.IsGood, score.ToString());
    }

    [Fact]
    public void Hard_touches_are_called_right_in_97_of_100_answers_and_withheld_in_at_most_10()
    {
        var score = Score(2, Verdict.TooHard, (r, _) =>
        {
            var truth = 1 + (39 * r.NextDouble());
            var (value, low, high) = Measured(r, truth, 0.7 * 1.48);
            return (Fine() with { Dip = new(value), EarDip = new(value), DipBounds = DbBounds(low, high) }, truth > 20);
        });
        Assert.True(score.IsGood, score.ToString());
    }

    [Fact] // Half of the changes have no gap at all.
    public void Stopped_air_is_called_right_in_97_of_100_answers_and_withheld_in_at_most_10()
    {
        var score = Score(3, Verdict.AirStopped, (r, i) =>
        {
            var truth = i % 2 == 0 ? 0 : 110 * r.NextDouble();
            var (value, low, high) = Measured(r, truth, 5 * 1.48);
            if (truth == 0) (value, low, high) = (0, 0, r.NextDouble());
            return (Fine() with { Dip = new(25), EarDip = new(25), Gap = Ms(value), EarGap = Ms(value), GapBounds = MsBounds(low, high) }, truth >= 10);
        });
        Assert.True(score.IsGood, score.ToString());
    }

    [Fact]
    public void Late_tongues_are_called_right_in_97_of_100_answers_and_withheld_in_at_most_10()
    {
        var score = Score(4, Verdict.TongueLate, (r, _) =>
        {
            var truth = -120 + (240 * r.NextDouble());
            var (value, low, high) = Measured(r, truth, 5 * 1.48, signed: true);
            return (Fine() with { DipCentre = new Seconds(2) + Ms(value), TongueOffsetBounds = MsBounds(low, high) }, truth > 60);
        });
        Assert.True(score.IsGood, score.ToString());
    }

    [Fact] // Half of them as a fine player makes them, the others with one fault, its size drawn over the range; all that is measured counts.
    public void Of_whole_changes_at_most_10_of_100_are_left_open_and_97_of_100_fine_ones_are_clean()
    {
        var random = new Random(5);
        var plan = PlanOf(OnOnePartial);
        var (open, fine, blamed) = (0, 0, 0);
        for (var i = 0; i < Cases; i++)
        {
            var verdicts = Whole(WholeChange(random, i % 8), plan).Changes[0].Verdicts;
            if (verdicts.Contains(Verdict.CannotTell)) open++;
            else if (i % 8 >= 4 && verdicts is [Verdict.Clean]) fine++;
            else if (i % 8 >= 4) blamed++;
        }

        Assert.True(open <= 0.10 * Cases && fine >= 0.97 * (fine + blamed), $"open {open}, fine {fine}, blamed {blamed} of {Cases}");
    }

    // A fine player's ranges; fault 0 smears, 1 is hard, 2 bursts, 3 is off in time.
    private static HeardChange WholeChange(Random r, int fault)
    {
        double Drawn(int which, double low, double high, double faulty) => low + (((fault == which ? faulty : high) - low) * r.NextDouble());
        var glide = Measured(r, Drawn(0, 0, 45, 300), 4 * 1.48);
        var dip = Measured(r, Drawn(1, 4, 17, 40), 0.7 * 1.48);
        var over = Measured(r, Drawn(2, -1, 1, 12), 0.5);
        var tongue = Measured(r, Drawn(3, -25, 25, 150), 5 * 1.48, signed: true);
        return Fine() with
        {
            AudibleGlide = Ms(glide.Value),
            AudibleGlideBounds = MsBounds(glide.Low, glide.High),
            Dip = new(dip.Value),
            EarDip = new(dip.Value),
            DipBounds = DbBounds(dip.Low, dip.High),
            Overshoot = new(over.Value),
            OvershootBounds = DbBounds(over.Low, over.High),
            DipCentre = new Seconds(2) + Ms(tongue.Value),
            TongueOffsetBounds = MsBounds(tongue.Low, tongue.High),
        };
    }

    private sealed record Tally(int Right, int Wrong, int Missed, int Open)
    {
        private double Precision => Right / (double)(Right + Wrong);

        private double Recall => Right / (double)(Right + Missed);

        private double Withheld => Open / (double)Cases;

        public bool IsGood => Precision >= 0.97 && Recall >= 0.97 && Withheld <= 0.10;

        public override string ToString() => $"precision {Precision:0.0000}, recall {Recall:0.0000}, withheld {Withheld:0.000}";
    }

    private static Tally Score(int seed, Verdict verdict, Func<Random, int, (HeardChange Heard, bool Truth)> draw)
    {
        var random = new Random(seed);
        var plan = PlanOf(OnOnePartial);
        var tally = new Tally(0, 0, 0, 0);
        for (var i = 0; i < Cases; i++)
        {
            var (heard, truth) = draw(random, i);
            var verdicts = Whole(heard, plan).Changes[0].Verdicts;
            if (verdicts.Contains(Verdict.CannotTell)) tally = tally with { Open = tally.Open + 1 };
            else if (verdicts.Contains(verdict)) tally = truth ? tally with { Right = tally.Right + 1 } : tally with { Wrong = tally.Wrong + 1 };
            else if (truth) tally = tally with { Missed = tally.Missed + 1 };
        }

        return tally;
    }

    private static (double Value, double Low, double High) Measured(Random random, double truth, double typical, bool signed = false)
    {
        var deviation = typical * Math.Pow(2, (2 * random.NextDouble()) - 1);
        var value = truth + (deviation * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble()));
        if (!signed) value = Math.Max(0, value);
        return (value, value - (Reach90 * deviation), value + (Reach90 * deviation));
    }
}
