using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Instruments;

/// <summary>Values published elsewhere, or derived by hand from published ones; each names its source.</summary>
public class PublishedValuesTests
{
    // The travel tables the checks use were made with this speed of sound.
    private const double TableSpeed = 343.4;

    private static Centimetres LengthOn(string pedal) => Tube.LengthOf(TableSpeed, Pitch.Parse(pedal).Frequency(Hertz.A440));

    private static void Near(double expected, double actual, double tolerance) =>
        Assert.InRange(actual, expected - tolerance, expected + tolerance);

    [Fact] // Cramer, JASA 93 (1993) 2510.
    public void Sound_travels_at_331_45_metres_a_second_in_dry_air_at_freezing() =>
        Near(331.45, new Air { TemperatureC = 0 }.SpeedOfSound, 0.1);

    [Fact] // Cramer 1993, 101.325 kPa, 400 ppm CO2.
    public void Sound_travels_at_343_36_metres_a_second_in_dry_air_at_twenty_degrees() =>
        Near(343.36, Air.Standard.SpeedOfSound, 0.1);

    [Theory] // ISO 9613-1 simple form against Cramer 1993 over the whole range.
    [InlineData(0)]
    [InlineData(10)]
    [InlineData(20)]
    [InlineData(30)]
    public void The_simple_form_agrees_with_the_full_formula_within_a_tenth_of_a_per_cent(double t) =>
        Near(Air.SimpleSpeedOfSound(t), new Air { TemperatureC = t }.SpeedOfSound, 0.001 * 343);

    [Fact] // Derived from ISO 9613-1: 1200·log2(√(1 + 1/293.15)).
    public void Pitch_rises_2_95_cents_a_degree_at_twenty_degrees()
    {
        var cents = 1200 * Math.Log2(new Air { TemperatureC = 20.5 }.SpeedOfSound / new Air { TemperatureC = 19.5 }.SpeedOfSound);
        Near(2.95, cents, 0.02);
    }

    [Fact] // Derived from Cramer 1993.
    public void Full_humidity_raises_pitch_by_about_six_cents_at_twenty_degrees()
    {
        var cents = 1200 * Math.Log2(new Air { Humidity = 1 }.SpeedOfSound / Air.Standard.SpeedOfSound);
        Near(6.3, cents, 0.5);
    }

    [Fact] // c / (2·f) with B-flat 1 = 58.27 Hz (ISO 16).
    public void The_b_flat_column_is_2_947_metres_long() => Near(2.947, LengthOn("Bb1").Metres, 0.002);

    [Theory] // Derived: L·(2^(k/12) − 1)/2.
    [InlineData("Bb1", 2.947, new[] { 8.76, 18.04, 27.88, 38.29, 49.33, 61.03 })]
    [InlineData("F1", 3.933, new[] { 11.69, 24.08, 37.21, 51.12, 65.85, 81.46 })]
    [InlineData("Eb2", 2.208, new[] { 6.56, 13.52, 20.88, 28.69, 36.96, 45.72 })]
    public void Travel_to_each_semitone_follows_from_the_length(string pedal, double metres, double[] travels)
    {
        Near(metres, LengthOn(pedal).Metres, 0.002);
        for (var k = 1; k <= travels.Length; k++) Near(travels[k - 1], Tube.TravelFor(LengthOn(pedal), k).Value, 0.02);
    }

    [Theory] // Derived, printed to a millimetre.
    [InlineData("Gb1", 3.713, new[] { 11.0, 22.7, 35.1, 48.2, 62.2 })]
    [InlineData("D1", 4.677, new[] { 13.9, 28.6, 44.3, 60.8, 78.3 })]
    public void Travel_on_the_longer_valve_sides_follows_too(string pedal, double metres, double[] travels)
    {
        Near(metres, LengthOn(pedal).Metres, 0.002);
        for (var k = 1; k <= travels.Length; k++) Near(travels[k - 1], Tube.TravelFor(LengthOn(pedal), k).Value, 0.06);
    }

    [Fact] // Equal temperament.
    public void Each_step_of_the_slide_is_longer_than_the_last_by_a_semitone_ratio()
    {
        double At(int k) => Tube.TravelFor(LengthOn("Bb1"), k).Value;
        Near(1.05946, (At(4) - At(3)) / (At(3) - At(2)), 0.0001);
    }

    [Fact] // Equal temperament: a fourth.
    public void The_f_side_is_a_fourth_longer() =>
        Near(1.3348, Tube.TravelFor(LengthOn("F1"), 1).Value / Tube.TravelFor(LengthOn("Bb1"), 1).Value, 0.001);

    [Theory] // Derived: open travel = side travel.
    [InlineData("bass-independent", "F", new[] { 1, 2.32, 3.62, 4.90, 6.16, 7.40 })]
    [InlineData("bass-independent", "Gb", new[] { 1, 2.25, 3.48, 4.70, 5.90, 7.09 })]
    [InlineData("bass-independent", "F+Gb", new[] { 1, 2.56, 4.08, 5.55, 6.98 })]
    public void Valve_side_positions_in_open_horn_units(string id, string side, double[] positions)
    {
        var instrument = Catalogue.Find(id)!;
        var tube = instrument.Sides.Single(s => s.Id == side);
        for (var k = 0; k < positions.Length; k++)
            Near(positions[k], instrument.PositionAt(Tube.TravelFor(tube.EffectiveLength, k)), 0.02);
    }

    [Fact] // Derived from the travels, with a slide of 61.1 cm.
    public void A_slide_of_61_centimetres_has_five_positions_on_the_f_and_the_d_side()
    {
        var bass = Catalogue.Find("bass-independent")! with { FurthestTravel = new(61.1) };
        Assert.Equal(5, Reached(bass, "F"));
        Assert.Equal(5, Reached(bass, "F+Gb"));
        Assert.Empty((Catalogue.Find("tenor-f")! with { FurthestTravel = new(61.1) }).SettingsFor(Pitch.Parse("B1")));
        Assert.Empty((Catalogue.Find("tenor-f")! with { FurthestTravel = new(61.1) }).SettingsFor(Pitch.Parse("C2")));

        static int Reached(Instrument instrument, string side) => Enumerable.Range(0, 7).Count(k =>
            Tube.TravelFor(instrument.Sides.Single(s => s.Id == side).EffectiveLength, k).Value <= instrument.FurthestTravel.Value);
    }

    [Fact] // Derived.
    public void The_altos_seventh_position_is_45_7_centimetres_out() => Near(45.7, Tube.TravelFor(LengthOn("Eb2"), 6).Value, 0.1);

    [Fact] // Derived: 1200/ln 2 · 2/(L + 2x).
    public void A_millimetre_of_slide_is_1_175_cents_closed_and_0_831_in_seventh()
    {
        var l = LengthOn("Bb1");
        Near(1.175, Tube.CentsPerMillimetre(l, new(0)), 0.005);
        Near(0.831, Tube.CentsPerMillimetre(l, Tube.TravelFor(l, 6)), 0.005);
    }

    [Theory] // Harmonic series against equal temperament.
    [InlineData(3, 1.955, 0.01)]
    [InlineData(5, -13.69, 0.01)]
    [InlineData(7, -31.17, 0.01)]
    [InlineData(9, 3.91, 0.01)]
    [InlineData(11, -48.68, 0.01)]
    public void Harmonics_miss_the_tempered_scale(int n, double cents, double tolerance) =>
        Near(cents, Tube.HarmonicDeviation(n).Value, tolerance);

    [Fact] // Derived from the seventh harmonic's −31.17 cents in second position.
    public void The_seventh_partial_in_second_wants_the_slide_28_millimetres_further_in()
    {
        var tenor = Catalogue.Find("tenor-straight")!;
        var setting = tenor.SettingsFor(Pitch.Parse("G4")).Single(s => s.Partial == 7);
        Assert.Equal("♯2", setting.Label);
        Near(27.9, (Tube.TravelFor(tenor.Open.EffectiveLength, 1) - setting.Travel).Millimetres, 0.3);
        Near(31.2, setting.Correction.Value, 0.05);
        Assert.Equal(0, setting.Residual.Value);
    }

    [Fact] // The seventh partial is too flat to correct inward from first position.
    public void The_seventh_partial_is_not_offered_in_first() =>
        Assert.DoesNotContain(Catalogue.Find("tenor-straight")!.SettingsFor(Pitch.Parse("Ab4")), s => s.Partial == 7);

    [Fact] // Bilbao and Chick, JASA 134 (2013) 3860.
    public void The_equivalent_fundamental_pitch_compares_a_partial_with_the_fourth()
    {
        var fourth = new Hertz(233);
        var f = 233 / 4.0;
        Near(27, Tube.EquivalentFundamentalPitch(new(5 * f * Math.Pow(2, 27 / 1200.0)), 5, fourth).Value, 1e-9);
    }

    [Fact] // OEIS A309909, after Kennan, The Technique of Orchestration (1952).
    public void The_lowest_position_of_each_note_from_e2_to_d5_is_the_published_sequence()
    {
        int[] published =
        [
            7, 6, 5, 4, 3, 2, 1, // E2 to B-flat 2
            7, 6, 5, 4, 3, 2, 1, // B2 to F3
            5, 4, 3, 2, 1, // F-sharp 3 to B-flat 3
            4, 3, 2, 1, // B3 to D4
            3, 2, 1, // E-flat 4 to F4
            3, 2, 3, 2, 1, 2, 1, 2, 1, // F-sharp 4 to D5
        ];
        var tenor = Catalogue.Find("tenor-straight")!;
        var low = Pitch.Parse("E2").Midi;
        var ours = Enumerable.Range(low, published.Length).Select(m => PositionLabel.Whole(tenor.UsualSetting(Pitch.FromMidi(m))!));
        Assert.Equal(published, ours);
        Assert.Equal(Pitch.Parse("D5").Midi, low + published.Length - 1);
    }

    [Fact] // Derived by the same authors' rule: the alto reads a fourth higher.
    public void The_alto_has_the_same_positions_a_fourth_higher()
    {
        var tenor = Catalogue.Find("tenor-straight")!;
        var alto = Catalogue.Find("alto-eb")!;
        for (var m = Pitch.Parse("E2").Midi; m <= Pitch.Parse("D5").Midi; m++)
            Assert.Equal(tenor.UsualSetting(Pitch.FromMidi(m))!.Label, alto.UsualSetting(Pitch.FromMidi(m + 5))!.Label);
    }

    [Fact] // Common practice, checked against the chart.
    public void Contrary_motion_always_changes_the_partial()
    {
        var tenor = Catalogue.Find("tenor-straight")!;
        var all = Enumerable.Range(Pitch.Parse("E1").Midi, 50).Select(Pitch.FromMidi)
            .SelectMany(p => tenor.SettingsFor(p).Select(s => (Pitch: p, Setting: s))).ToList();
        var pairs = 0;
        foreach (var (p, a) in all)
        {
            foreach (var (q, b) in all.Where(x => x.Pitch.Midi > p.Midi && x.Setting.Travel > a.Travel))
            {
                pairs++;
                Assert.NotEqual(a.Partial, b.Partial);
            }
        }

        Assert.True(pairs > 1000, $"only {pairs} pairs were compared");
    }

    [Fact] // Equal temperament: seven positions span six semitones.
    public void The_longest_glissando_on_one_partial_is_a_tritone()
    {
        var tenor = Catalogue.Find("tenor-straight")!;
        var longest = Enumerable.Range(1, tenor.HighestPartial).Max(n =>
        {
            var notes = Enumerable.Range(12, 90).Where(m => tenor.SettingsFor(Pitch.FromMidi(m)).Any(s => s.Partial == n)).ToList();
            return notes[^1] - notes[0];
        });
        Assert.Equal(6, longest);
    }

    [Fact] // Flash and Hogan, J. Neurosci. 5 (1985): peak speed 1.875·D/T, half way at T/2.
    public void A_minimum_jerk_move_of_27_88_centimetres_in_200_ms_peaks_at_2_61_metres_a_second()
    {
        Near(2.61, MinimumJerk.PeakSpeed(new(27.88), Seconds.FromMilliseconds(200)), 0.01);
        Near(0.5, MinimumJerk.Progress(0.5), 1e-12);
        Near(0.5, MinimumJerk.TimeAt(0.5), 1e-9);
        Near(0.507, MinimumJerk.TimeAt(0.9) - MinimumJerk.TimeAt(0.1), 0.001);
    }

    [Fact] // The peak is the greatest slope of the polynomial itself.
    public void The_peak_speed_is_the_steepest_slope_of_the_movement()
    {
        var steepest = Enumerable.Range(0, 10000).Max(i => (MinimumJerk.Progress((i + 1) / 10000.0) - MinimumJerk.Progress(i / 10000.0)) * 10000);
        Near(MinimumJerk.PeakOverMean, steepest, 1e-4);
    }

    [Theory] // Wikibooks, Trombone slide positions: the F side replaces sixth by first and seventh by (flat) second.
    [InlineData("C3", "F1")]
    [InlineData("F2", "F1")]
    [InlineData("B2", "F ♭2")]
    [InlineData("E2", "F ♭2")]
    public void The_f_attachment_replaces_sixth_and_seventh(string pitch, string label) =>
        Assert.Equal(label, Catalogue.Default.UsualSetting(Pitch.Parse(pitch))!.Label);

    [Fact] // The usual printed chart for the F attachment (from memory): 1, ♭2, ♭3, 5, ♭6, ♭7.
    public void The_f_side_is_named_as_the_usual_chart_names_it()
    {
        var reachesAll = Catalogue.Find("tenor-f")! with { FurthestTravel = new(82) };
        var labels = Enumerable.Range(0, 6).Select(k => reachesAll.SettingsFor(Pitch.FromMidi(Pitch.Parse("F2").Midi - k)).Single(s => s.Side.Id == "F" && s.Partial == 2).Label);
        Assert.Equal(["F1", "F ♭2", "F ♭3", "F5", "F ♭6", "F ♭7"], labels);
    }

    [Theory] // 't Hart (1976): a glide is heard where its rate is over 0.16/T² semitones a second, so from T = 160 ms / interval.
    [InlineData(1, 160)]
    [InlineData(2, 80)]
    [InlineData(3, 53.3)]
    public void A_glide_is_plainly_heard_from_160_ms_over_its_interval(int semitones, double ms)
    {
        var limit = Core.Diagnosis.VerdictSettings.Default.SmearClear.Milliseconds / semitones;
        Near(ms, limit, 0.05);
        Near(0.16, limit / 1000 * semitones, 1e-9);
    }
}
