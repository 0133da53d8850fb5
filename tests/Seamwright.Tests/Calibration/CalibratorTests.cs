using Seamwright.Core;
using Seamwright.Core.Calibration;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Calibration;

/// <summary>Horns whose tuning and partials are known exactly.</summary>
public class CalibratorTests
{
    private const string Whole = CalibrationTape.Slurs + " " + CalibrationTape.Scale;

    public static TheoryData<double, double, string, uint> Horns => new()
    {
        { 440, 20, "2:-12 3:-9 5:14 6:6 8:8", 1 },
        { 443.5, 20, "2:-20 3:5 4:0 5:-10 6:12", 2 },
        { 436, 27, "5:20 8:-15", 3 },
        { 442, 20, "", 4 },
    };

    [Theory]
    [MemberData(nameof(Horns))]
    public void Tuning_and_partials_are_recovered_within_three_cents_and_the_intervals_hold_them(double a4, double celsius, string offsets, uint seed)
    {
        var horn = CalibrationTape.Horn(a4, celsius, Offsets(offsets));
        var believed = CalibrationTape.Horn(440);
        foreach (var room in (double[])[-72, -50])
        {
            var result = Unguided(CalibrationTape.Play(horn, Whole, room: room, seed: seed), believed).Value;
            Assert.InRange(result.Tuning!.Cents.Value - new Hertz(a4).Above(believed.A4).Value, -3, 3);
            Assert.InRange(new Hertz(a4).Above(believed.A4).Value, result.Tuning.Bounds.Low.Value, result.Tuning.Bounds.High.Value);
            Assert.Equal([2, 3, 4, 5, 6, 8], result.Partials.Select(p => p.Partial));
            foreach (var p in result.Partials)
            {
                var truth = horn.PartialOffsets.GetValueOrDefault(p.Partial).Value;
                Assert.InRange(p.Heard.Value - truth, -3, 3);
                Assert.InRange(result.After.PartialOffsets.GetValueOrDefault(p.Partial).Value - truth, -3, 3);
            }

            // Of 90 % intervals some miss a little; how many is tested over many players.
            Assert.All(result.Partials, p => Assert.True(Holds(p, horn, 2), $"{p}"));
            Assert.All(result.Notes.Where(n => n.Exercise == ExerciseKind.LipSlur), n => Assert.InRange(n.After.Value, -8, 8));
        }
    }

    [Fact] // The slur ends where the scale begins, and its last note was too short to be read.
    public void A_note_behind_one_that_was_left_out_belongs_to_what_follows()
    {
        const string Line = CalibrationTape.Slurs + " F3:1~ Bb2:1 r:1 Bb2:1 B2:1 C3:1 Db3:1 D3:1 Eb3:1 E3:1 F3:1 F#3:1 G3:1";
        var horn = CalibrationTape.Horn(440);
        var heard = CalibrationNotes.Scattered(horn, Line, 1, 2);
        var end = heard.Take.Notes.Length - 11;
        var take = heard.Take with { Notes = heard.Take.Notes.SetItem(end, heard.Take.Notes[end] with { Cents = null }) };
        var result = Calibrator.Calibrate(heard with { Take = take }, horn).Value;
        Assert.Equal(ExerciseKind.Scale, result.Notes.Single(n => n.Index == end + 1).Exercise);
    }

    [Fact]
    public void In_nine_cases_of_ten_the_intervals_hold_the_truth()
    {
        // Notes as heard, without the sound between: two hundred players of the same horn.
        var horn = CalibrationTape.Horn(441.5, 20, (2, -12), (3, -9), (5, 14), (6, 6));
        var (inside, all) = (0, 0);
        for (var player = 1; player <= 200; player++)
        {
            var result = Calibrator.Calibrate(CalibrationNotes.Scattered(horn, Whole, player, 4), CalibrationTape.Horn(440)).Value;
            inside += result.Partials.Count(p => Holds(p, horn, 1));
            all += result.Partials.Length;
        }

        Assert.InRange((double)inside / all, 0.86, 0.97);
    }

    [Fact]
    public void A_horn_that_is_as_the_catalogue_says_is_left_as_it_is()
    {
        var horn = CalibrationTape.Horn(440);
        var result = Unguided(CalibrationTape.Play(horn, Whole, seed: 9), horn).Value;
        Assert.False(result.Changed);
        Assert.Same(horn, result.After);
        Assert.All(result.Partials, p => Assert.False(p.Written));
        var changed = Enumerable.Range(1, 200).Count(player => Calibrator.Calibrate(CalibrationNotes.Scattered(horn, Whole, player, 3), horn).Value.Changed);
        Assert.InRange(changed, 0, 25);
    }

    [Fact]
    public void A_note_far_off_is_named_and_does_not_move_the_figures()
    {
        var horn = CalibrationTape.Horn(440, 20, (5, 14));
        var wrong = new Dictionary<int, double> { [3] = 45, [1] = -40, [40] = 40 };
        var result = Unguided(CalibrationTape.Play(horn, Whole, seed: 5, wrong: wrong), CalibrationTape.Horn(440)).Value;
        Assert.Equal([1, 3, 40], result.Notes.Where(n => n.IsOutlier).Select(n => n.Index));
        Assert.InRange(result.Partials.Single(p => p.Partial == 5).Heard.Value, 11, 17);
        Assert.InRange(result.Partials.Single(p => p.Partial == 3).Heard.Value, -3, 3);
        Assert.InRange(result.Tuning!.Cents.Value, -3, 3);
    }

    [Fact]
    public void The_exercise_sheet_gives_the_same_figures()
    {
        var (horn, believed) = (CalibrationTape.Horn(442, 20, (2, -12), (5, 14)), CalibrationTape.Horn(440));
        var recording = CalibrationTape.Play(horn, Whole, seed: 6);
        var plan = CalibrationTape.PlanOf(believed, Whole);
        var guided = Calibrator.Calibrate(Listener.Listen(recording, plan), plan).Value;
        var free = Unguided(recording, believed).Value;
        Assert.InRange((guided.Tuning!.Cents - free.Tuning!.Cents).Value, -1, 1);
        Assert.Equal(free.Partials.Select(p => p.Partial), guided.Partials.Select(p => p.Partial));
        foreach (var (g, f) in guided.Partials.Zip(free.Partials)) Assert.InRange((g.Heard - f.Heard).Value, -1.5, 1.5);
    }

    [Fact]
    public void Slide_travel_is_told_as_a_share_of_the_length_and_a_ruler_makes_it_centimetres()
    {
        var (horn, believed) = (CalibrationTape.Horn(440, 20, (2, -12), (3, -9)), CalibrationTape.Horn(440));
        var recording = CalibrationTape.Play(horn, Whole, scatter: 0, seed: 7);
        var result = Unguided(recording, believed).Value;
        foreach (var p in result.Positions)
        {
            // The mean over the notes of the travel that each was truly played with.
            var truth = CalibrationTape.PlanOf(horn, Whole).Notes.Where(n => n.Setting!.Semitone == p.Semitone).Average(n => n.Setting!.Travel.Value / horn.Open.EffectiveLength.Value);
            Assert.InRange(p.Share, truth - 0.002, truth + 0.002);
            Assert.InRange(truth, p.Bounds.Low, p.Bounds.High);
        }

        Assert.Contains(result.Unknown, u => u.Contains("ratios of tube lengths"));
        Assert.Contains(result.Unknown, u => u.Contains("temperature"));
        var ruled = Calibrator.Calibrate(FreeListener.Listen(recording, believed), believed, new CalibrationSettings { MeasuredSeventh = new(62.5) }).Value;
        Assert.InRange(ruled.Positions.Single(p => p.Semitone == 6).After.Value, 62.4, 62.6);
        Assert.DoesNotContain(ruled.Unknown, u => u.Contains("ratios of tube lengths"));
    }

    [Theory]
    [InlineData("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:1~ D3:1~ Eb3:1~ C3:1~ D3:1~ Bb2:2")]
    [InlineData("F3:4")]
    [InlineData("Bb2:1~ F3:1~ Bb2:1~ F3:1~ Bb2:2")]
    public void Another_exercise_gets_a_message_that_says_what_to_play(string notes)
    {
        var result = Unguided(CalibrationTape.Play(CalibrationTape.Horn(440), notes), CalibrationTape.Horn(440));
        Assert.False(result.Succeeded);
        Assert.Contains(result.Problems, p => p.Severity == Severity.Error && p.Hint.Contains("lip slurs") && p.Hint.Contains("chromatic scale"));
    }

    [Fact]
    public void A_tune_is_no_exercise_even_with_its_sheet()
    {
        var (horn, tune) = (CalibrationTape.Horn(440), "Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:1~ D3:1~ Eb3:1~ C3:1~ D3:1~ Bb2:2' G3:1~ F3:1~ Eb3:1~ D3:1~ C3:1~ Bb2:2");
        var plan = CalibrationTape.PlanOf(horn, tune);
        var result = Calibrator.Calibrate(CalibrationNotes.Scattered(horn, tune, 1, 2).Take, plan);
        Assert.False(result.Succeeded);
        Assert.Contains("too little to calibrate from", result.Problems.Single().What);
    }

    [Fact]
    public void Notes_that_lie_anywhere_are_no_tuning()
    {
        var horn = CalibrationTape.Horn(440);
        var refused = Enumerable.Range(1, 50).Select(player => Calibrator.Calibrate(CalibrationNotes.Scattered(horn, Whole, player, 40), horn)).ToList();
        Assert.All(refused, r => Assert.Contains("from which a tuning can be told", r.Problems.Single().What));
        Assert.All(Enumerable.Range(1, 50), player => Assert.True(Calibrator.Calibrate(CalibrationNotes.Scattered(horn, Whole, player, 12), horn).Succeeded));
    }

    [Theory]
    [InlineData(415.3, "a semitone below first position", "A4 = 415 Hz")]
    [InlineData(466.2, "a semitone above first position", "A4 = 466 Hz")]
    public void A_horn_of_another_chamber_pitch_is_told_and_measured_once_it_is_named(double a4, string says, string hint)
    {
        var recording = CalibrationTape.Play(CalibrationTape.Horn(a4), Whole, seed: 8);
        var problem = Unguided(recording, CalibrationTape.Horn(440)).Problems.Single();
        Assert.Contains(says, problem.What);
        Assert.Contains(hint, problem.Hint);
        Assert.InRange(Unguided(recording, CalibrationTape.Horn(Math.Round(a4))).Value.After.A4.Value, a4 - 1, a4 + 1);
    }

    [Fact]
    public void Silence_gets_the_message_too() =>
        Assert.False(Unguided(new Recording(new float[32_000], new(16_000)), CalibrationTape.Horn(440)).Succeeded);

    [Fact]
    public void Without_a_scale_the_shift_that_tuning_and_partials_share_is_said_to_be_unknown()
    {
        var result = Unguided(CalibrationTape.Play(CalibrationTape.Horn(444, 20, (5, 14)), CalibrationTape.Slurs), CalibrationTape.Horn(440)).Value;
        Assert.Null(result.Tuning);
        Assert.Contains(result.Unknown, u => u.Contains("unknown shift"));
        Assert.InRange(result.After.A4.Value, 443, 445);
        Assert.InRange(result.Partials.Single(p => p.Partial == 5).Heard.Value, 11, 17);
    }

    [Fact]
    public void Without_slurs_only_the_tuning_is_told()
    {
        var result = Unguided(CalibrationTape.Play(CalibrationTape.Horn(443, 20, (2, -10)), CalibrationTape.Scale), CalibrationTape.Horn(440)).Value;
        Assert.InRange(result.Tuning!.Cents.Value - new Hertz(443).Above(Hertz.A440).Value, -3, 3);
        Assert.Empty(result.Partials);
        Assert.Empty(result.After.PartialOffsets);
    }

    private static bool Holds(PartialEstimate p, Instrument horn, double times) =>
        Math.Abs(horn.PartialOffsets.GetValueOrDefault(p.Partial).Value - p.Heard.Value) <= times * (p.Bounds.High - p.Heard).Value;

    private static Outcome<CalibrationResult> Unguided(Recording recording, Instrument believed) =>
        Calibrator.Calibrate(FreeListener.Listen(recording, believed), believed);

    private static (int, double)[] Offsets(string text) =>
        [.. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(o => o.Split(':')).Select(o => (int.Parse(o[0]), double.Parse(o[1])))];
}
