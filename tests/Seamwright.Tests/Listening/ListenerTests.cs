using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>Figures against sound whose truth is known exactly.</summary>
public class ListenerTests
{
    [Theory]
    [InlineData("Bb1:2 C2:2~ D2:2~ C2:2", "bass-independent")]
    [InlineData("E2:1~ F2:1~ G2:1~ F2:1~ E2:2", "tenor-straight")]
    [InlineData("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2", "tenor-straight")]
    [InlineData("F3:1~ G3:1~ A3:1~ Bb3:1~ A3:1~ F3:2", "tenor-straight")]
    [InlineData("Bb3:1~ C4:1~ D4:1~ Eb4:1~ F4:2", "tenor-straight")]
    [InlineData("Bb4:1~ C5:1~ D5:1~ C5:1~ F5:2", "tenor-straight")]
    public void Every_note_is_found_in_tune_and_in_place_from_58_to_700_hertz(string notes, string instrument)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Catalogue.Find(instrument)!).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan));
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        Assert.All(heard.Notes, n => Assert.True(n.Found, $"{n.Pitch} was not found"));
        foreach (var (n, t) in heard.Notes.Zip(take.Truth.Notes))
        {
            Assert.True(Math.Abs(n.Cents!.Value.Value - (t.Cents?.Value ?? 0)) <= 5, $"{n.Pitch}: heard {n.Cents}, played {t.Cents}");
            if (t.Onset is { } onset) Assert.InRange(n.Onset!.Value.Value - onset.Value, -0.05, 0.05);
        }
    }

    [Theory]
    [InlineData(8000)]
    [InlineData(22050)]
    [InlineData(44100)]
    [InlineData(96000)]
    public void The_sampling_rate_does_not_matter(int rate)
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2", 84), Catalogue.Find("tenor-straight")!).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan), new SimpleSourceSettings { Rate = new SampleRate(rate) });
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        Assert.All(heard.Notes, n => Assert.True(n.Found));
        foreach (var (c, t) in heard.Changes.Zip(take.Truth.Changes))
        {
            Assert.InRange(c.Dip!.Value.Value - t.Dip!.Value.Value, -1.5, 1.5);
            Assert.InRange((c.TongueOffset!.Value - t.TongueOffset!.Value).Milliseconds, -10, 10);
        }
    }

    [Theory]
    [InlineData(60)]
    [InlineData(120)]
    [InlineData(200)]
    [InlineData(320)]
    public void A_slides_glide_is_measured_within_ten_milliseconds(double move)
    {
        var (heard, truth) = OneSlide(new ChangeExecution { Move = Ms(move), Centre = -Ms(move / 2), Dip = new(6), DipWidth = Ms(40) });
        Assert.InRange((heard.Glide!.Value - truth.Glide!.Value).Milliseconds, -10, 10);
        Assert.InRange((heard.GlideCentre!.Value - truth.GlideCentre!.Value).Milliseconds, -5, 5);
    }

    // A slide of 203 ms from 10 to 90 % in whose middle the air stops for 30 ms: heard before and after it, so it was a slide.
    [Fact]
    public void A_slide_heard_on_both_sides_of_a_silence_is_told()
    {
        var (heard, truth) = OneSlide(new ChangeExecution { Move = Ms(400), Centre = -Ms(200), Gap = Ms(30) });
        Assert.InRange((heard.Glide!.Value - truth.Glide!.Value).Milliseconds, -20, 20);
        Assert.True(heard.AudibleGlide!.Value.Milliseconds > 100);
    }

    // Ten to ninety per cent of a raised cosine is 0.59 of it. A pitch on the way is no wrong partial, and a silence no break.
    [Theory]
    [InlineData("F2:2~ C2:2", 250)]
    [InlineData("F#3:2~ C#3:2", 320)]
    [InlineData("C#3:2~ F#3:2", 540)]
    public void A_wide_slide_about_a_silence_is_told(string notes, double move)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Catalogue.Find("tenor-straight")!).Value;
        var (from, to) = (plan.Notes[0].Note.Pitch.Frequency(plan.Instrument.A4).Value, plan.Notes[1].Note.Pitch.Frequency(plan.Instrument.A4).Value);
        var heard = Listener.Listen(new Recording(StoppedSlide(from, to, move / 1000, 0.055), new SampleRate(22050)), plan).Changes[0];
        Assert.InRange(heard.Glide!.Value.Milliseconds, (0.59 * move) - 8, (0.59 * move) + 8);
        Assert.Null(heard.CaughtPitch);
    }

    [Theory] // Each note grows or fades by so much, dB: the hollow at their seam lasts half a second, and no touch is that long.
    [InlineData(4, 0)]
    [InlineData(-4, 0)]
    [InlineData(4, 8)]
    public void Notes_that_swell_or_fade_are_not_touched(double grow, double touch)
    {
        double Db(double t) => (grow * (((t - 0.3) % 1.7) / 1.7)) - (touch * (1 + Math.Cos(Math.PI * Math.Clamp((t - 2) / 0.04, -1, 1))) / 2);
        var heard = Change("Bb3:2~ Ab3:2", Sounding(233.08, t => -Cosine(t, 0.2) / 6, Db));
        if (touch == 0) Assert.Null(heard.DipCentre);
        else Assert.InRange(heard.TongueOffset!.Value.Milliseconds, -10, 10);
    }

    // Five and a half swings a second of 30 cents to each side: how long a jump under them took is not known as if they were not there.
    [Fact]
    public void Vibrato_about_a_break_leaves_its_time_open()
    {
        foreach (var phase in (double[])[0, 0.8, 1.6, 2.4, 3.2, 4, 4.8, 5.6])
        {
            var heard = Change("Ab4:2~ G4:2", Sounding(415.3, t => (t < 2 ? 0 : -1 / 12.0) + (0.025 * Math.Sin((2 * Math.PI * 5.5 * t) + phase)), t => t is > 1.98 and < 2.02 ? -12 : 0));
            Assert.InRange(heard.GlideBounds?.Low.Milliseconds ?? 0, 0, 15);
        }
    }

    // Only 10 and 90 % of the way are seen; the whole of it is known no better than the movement's shape.
    [Fact]
    public void The_arms_time_holds_for_movements_that_are_no_minimum_jerk()
    {
        var arm = Change("Bb3:2~ Ab3:2", Sounding(233.08, t => -Math.Clamp(((t - 2) / 0.24) + 0.5, 0, 1) / 6, _ => 0)).Arm!;
        Assert.InRange(240, arm.DurationBounds!.Value.Low.Milliseconds, arm.DurationBounds.Value.High.Milliseconds);
    }

    [Theory] // Even movements of a third and of well over half of the first note, 1.7 s.
    [InlineData(0.5, false)]
    [InlineData(0.85, true)]
    public void An_arm_creeps_over_two_fifths_of_the_note(double move, bool crept) =>
        Assert.Equal(crept, Change("Bb3:2~ Ab3:2", Sounding(233.08, t => -Math.Clamp(((t - 2) / move) + 0.5, 0, 1) / 6, _ => 0)).Arm!.Crept);

    [Theory] // What lies beside a silence is heard as any other change.
    [InlineData(-90)]
    [InlineData(90)]
    public void A_quick_slide_beside_a_silence_is_told(double offset)
    {
        var (heard, truth) = OneSlide(new ChangeExecution { Move = Ms(70), Centre = -Ms(35), Gap = Ms(40), DipOffset = Ms(offset) });
        Assert.InRange((heard.Glide!.Value - truth.Glide!.Value).Milliseconds, -5, 5);
        Assert.InRange((heard.TongueOffset!.Value - truth.TongueOffset!.Value).Milliseconds, -6, 6);
    }

    [Theory] // Where the air stops for long enough to be heard the new note begins behind the silence, whichever pitch stood before or after it.
    [InlineData(-90)]
    [InlineData(0)]
    [InlineData(90)]
    public void A_note_begins_where_the_silence_before_it_ends(double offset)
    {
        var (take, plan) = OneSlideTake(new ChangeExecution { Move = Ms(120), Centre = -Ms(60), Gap = Ms(30), DipOffset = Ms(offset) });
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        var (middle, half) = (take.Truth.Changes[0].DipCentre!.Value.Value, take.Truth.Changes[0].Gap!.Value.Value / 2);
        Assert.InRange(heard.Notes[1].Onset!.Value.Value - middle - half, -0.01, 0.01);
        Assert.InRange(heard.Notes[0].Offset!.Value.Value - middle + half, -0.01, 0.01);
    }

    // Wholly inside a silence nobody hears whether it slid.
    [Fact]
    public void A_slide_inside_a_silence_is_not_told() =>
        Assert.Null(OneSlide(new ChangeExecution { Move = Ms(80), Centre = -Ms(40), Gap = Ms(120) }).Heard.Glide);

    [Theory]
    [InlineData(2, 30)]
    [InlineData(6, 40)]
    [InlineData(12, 20)]
    [InlineData(12, 60)]
    [InlineData(20, 50)]
    [InlineData(25, 60)]
    public void A_dip_is_measured_within_one_and_a_half_decibels_whatever_the_windows_length(double depth, double width)
    {
        var (heard, truth) = OneSlide(new ChangeExecution { Move = Ms(160), Centre = -Ms(80), Dip = new(depth), DipWidth = Ms(width) });
        Assert.InRange(heard.Dip!.Value.Value - truth.Dip!.Value.Value, -1.5, 1.5);
        Assert.InRange((heard.DipWidth!.Value - truth.DipWidth!.Value).Milliseconds, -8, 8);
        Assert.InRange((heard.DipCentre!.Value - truth.DipCentre!.Value).Milliseconds, -4, 4);
    }

    [Theory]
    [InlineData(-70)]
    [InlineData(0)]
    [InlineData(70)]
    public void The_tongues_place_against_the_arm_is_measured_within_ten_milliseconds(double offset)
    {
        var (heard, truth) = OneSlide(new ChangeExecution { Move = Ms(160), Centre = -Ms(80), Dip = new(10), DipWidth = Ms(45), DipOffset = Ms(offset) });
        Assert.InRange((heard.TongueOffset!.Value - truth.TongueOffset!.Value).Milliseconds, -10, 10);
    }

    [Theory]
    [InlineData(0.75)]
    [InlineData(1.25)]
    public void A_slower_or_faster_player_is_followed(double ratio)
    {
        var plan = Planner.Plan(TestLines.Of("Bb2:1~ C3:1~ D3:1/2~ Eb3:1/2~ F3:2 r:1 F3:1~ D3:1~ Bb2:2", 84), Catalogue.Find("tenor-straight")!).Value;
        var take = SimpleSource.Render(plan, Playing.Clean(plan) with { TempoRatio = ratio });
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        Assert.All(heard.Notes, n => Assert.True(n.Found));
        Assert.InRange(heard.TempoRatio!.Value, ratio * 0.97, ratio * 1.03);
    }

    [Fact]
    public void Another_tune_is_not_forced_onto_the_part()
    {
        var horn = Catalogue.Find("tenor-straight")!;
        var other = Planner.Plan(TestLines.Of("E2:1~ F2:1~ E2:1~ F2:2", 84), horn).Value;
        var take = SimpleSource.Render(other, Playing.Clean(other));
        var asked = Planner.Plan(TestLines.Of("Bb3:1~ D4:1~ C4:1~ B3:2", 84), horn).Value;
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), asked);
        Assert.All(heard.Notes, n => Assert.False(n.Found));
        Assert.Contains(heard.Problems, p => p.What.Contains("none of the part's notes"));
    }

    [Fact]
    public void Silence_and_a_click_are_no_notes()
    {
        var plan = Planner.Plan(TestLines.Of("Bb3:1~ D4:1", 84), Catalogue.Find("tenor-straight")!).Value;
        var click = new float[96000];
        click[48000] = 0.9f;
        foreach (var samples in (float[][])[new float[96000], click, new float[10]])
        {
            var heard = Listener.Listen(new Recording(samples, new SampleRate(48000)), plan);
            Assert.All(heard.Notes, n => Assert.False(n.Found));
            Assert.NotEmpty(heard.Problems);
        }
    }

    // The pitch goes by a raised cosine about the middle of four seconds, where the sound stops.
    private static float[] StoppedSlide(double from, double to, double move, double gap)
    {
        const double Flank = 0.01, Stopped = 0.003;
        return Sounding(from, t => Math.Log2(to / from) * Cosine(t, move), t => 20 * Math.Log10(Stopped) * (1 - Math.Clamp((Math.Abs(t - 2) - (gap / 2)) / Flank, 0, 1)));
    }

    private static double Cosine(double t, double move) => (1 - Math.Cos(Math.PI * Math.Clamp(((t - 2) / move) + 0.5, 0, 1))) / 2;

    // Eight harmonics for four seconds.
    private static float[] Sounding(double hz, Func<double, double> octaves, Func<double, double> db)
    {
        const int Rate = 22050;
        var samples = new float[4 * Rate];
        var phase = 0.0;
        for (var i = 0; i < samples.Length; i++)
        {
            var t = (double)i / Rate;
            phase += 2 * Math.PI * hz * Math.Pow(2, octaves(t)) / Rate;
            var open = t is < 0.3 or > 3.7 ? 0 : Math.Pow(10, db(t) / 20);
            for (var k = 1; k <= 8; k++) samples[i] += (float)(0.05 * open * Math.Cos(k * phase) / k);
        }

        return samples;
    }

    private static HeardChange Change(string notes, float[] samples)
    {
        var plan = Planner.Plan(TestLines.Of(notes, 84), Catalogue.Find("tenor-straight")!, new PlanSettings { Weights = CostWeights.PlainPositions }).Value;
        return Listener.Listen(new Recording(samples, new SampleRate(22050)), plan).Changes[0];
    }

    private static (HeardChange Heard, ChangeTruth Truth) OneSlide(ChangeExecution execution)
    {
        var (take, plan) = OneSlideTake(execution);
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        return (heard.Changes[0], take.Truth.Changes[0]);
    }

    private static (SoundedTake Take, Plan Plan) OneSlideTake(ChangeExecution execution)
    {
        var plan = Planner.Plan(TestLines.Of("Bb3:2~ Ab3:2", 84), Catalogue.Find("tenor-straight")!, new PlanSettings { Weights = CostWeights.PlainPositions }).Value;
        return (SimpleSource.Render(plan, new Performance { Changes = [execution], Cents = [new(0), new(0)] }), plan);
    }

    private static Seconds Ms(double ms) => Seconds.FromMilliseconds(ms);
}
