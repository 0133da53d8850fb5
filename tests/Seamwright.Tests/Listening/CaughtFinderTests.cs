using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Tests.Diagnoses;

namespace Seamwright.Tests.Listening;

/// <summary>Wrong partials on the way from one note to the next, and what only looks like one.</summary>
public class CaughtFinderTests
{
    private const double FromHz = 185;
    private const double ToHz = 174.6;

    // From the fourth partial in fifth position to the third in first.
    private static readonly Plan Contrary = VerdictCases.PlanOf("F#3:2~ F3:2");

    [Fact] // The arm goes in while the old partial still sounds: its pitch goes up to where that partial lies in first, then it breaks.
    public void A_note_that_the_arm_carries_along_is_no_wrong_partial() => Assert.Null(Find(t => t < 0.2 ? FromHz : t < 0.3 ? FromHz * Math.Pow(2, 190 * (t - 0.2) / 0.1 / 1200) : ToHz));

    [Fact] // The new partial sounds while the slide is still on its way to its place.
    public void Nor_is_one_that_is_carried_home() => Assert.Null(Find(t => t < 0.2 ? FromHz : t < 0.3 ? ToHz * Math.Pow(2, -190 * (0.3 - t) / 0.1 / 1200) : ToHz));

    [Fact]
    public void The_same_pitch_reached_by_a_jump_is_one() => Assert.Equal(198, Find(t => t < 0.2 ? FromHz : t < 0.26 ? 198 : ToHz)!.Value.Hz);

    [Fact] // Two to three by way of four, and back.
    public void An_octave_over_a_note_is_told_where_the_note_itself_is_another_sound()
    {
        var plan = VerdictCases.PlanOf("Bb2:1~ F3:1~ Bb2:1~ F3:1");
        var cracked = Judged(plan, new FaultOrder(Fault.Cracked, null, []));
        Assert.All(cracked, c => Assert.Contains(Verdict.Cracked, c.Verdicts));
        Assert.All(Judged(plan, FaultOrder.Clean), c => Assert.DoesNotContain(c.Findings, f => f.Basis.Contains("caught")));
    }

    [Fact]
    public void What_may_be_the_note_itself_is_left_open()
    {
        var caught = VerdictCases.Fine() with { CaughtPitch = new(300) };
        Assert.Contains(Verdict.Cracked, VerdictCases.Judge(caught).Verdicts);
        var open = VerdictCases.Judge(caught with { CaughtMayBeNote = true });
        Assert.Equal([Verdict.CannotTell], open.Verdicts);
        Assert.Contains("octave", open.Findings[0].Basis);
    }

    [Fact] // Its own sound is as bright at the octave as what was caught.
    public void A_note_without_its_odd_harmonics_is_not_told_from_its_octave()
    {
        Assert.Equal((233, false), Over(0.9));
        Assert.Equal((233, true), Over(0.155));
        Assert.Null(Over(0.05));
    }

    [Fact] // G3 rings on in B♭3: its third harmonic and five times the half of B♭3 are a sixth of a tone apart.
    public void An_octave_under_the_new_note_is_left_open_where_the_old_one_rings_on()
    {
        Assert.Equal((116, false), Under(rings: false));
        Assert.Equal((116, true), Under(rings: true));
    }

    private static (int Hz, bool Open)? Under(bool rings)
    {
        var samples = new float[9600];
        for (var i = 0; i < samples.Length; i++)
        {
            var (t, sum) = (i / 16000.0, 0.0);
            var tail = t < 0.2 ? 1 : Math.Exp(-25 * (t - 0.2));
            for (var k = 1; k <= 3; k++) sum += (tail * k * Math.Sin(2 * Math.PI * 196 * k * t)) + (t < 0.2 ? 0 : Math.Sin(2 * Math.PI * 233.1 * k * t));
            samples[i] = (float)(0.1 * sum);
        }

        return Held(samples, Curve(t => t < 0.2 ? 196 : t < 0.24 ? 116.5 : 233.1), new(0.02, 0.19, 196, -20), new(0.35, 0.55, 233.1, -20), 0.2, rings);
    }

    private static (int Hz, bool Open)? Held(float[] samples, ChangeCurve curve, SteadyNote a, SteadyNote b, double boundary, bool rings)
    {
        var squares = new double[samples.Length + 1];
        Energy.Sum(samples, squares);
        var held = new CaughtFinder(new FinePitch(samples, samples.Length, squares, 0), curve, a, b, boundary, rings).Find(new bool[curve.Count], true);
        return held is { } h ? ((int)h.Hz, h.MayBeNote) : null;
    }

    // An octave over the first note where its odd harmonics are so strong, by half as many even ones; its pitch, and whether it is left open.
    private static (int Hz, bool Open)? Over(double odd)
    {
        var samples = new float[9600];
        for (var i = 0; i < samples.Length; i++)
        {
            var (t, sum) = (i / 16000.0, 0.0);
            for (var k = 1; k <= 6; k++) sum += (t < 0.2 ? (k % 2 == 1 ? odd : 1) * Math.Sin(2 * Math.PI * 116.5 * k * t) : Math.Sin(2 * Math.PI * (t < 0.26 ? 233 : 174.6) * k * t)) / k;
            samples[i] = (float)(0.1 * sum);
        }

        return Held(samples, Curve(t => t < 0.2 ? 116.5 : t < 0.26 ? 233 : 174.6), new(0.02, 0.19, 116.5, -20), new(0.28, 0.5, 174.6, -20), 0.23, false);
    }

    private static CaughtFinder.Held? Find(Func<double, double> hz)
    {
        var curve = Curve(hz);
        var (a, b) = (new SteadyNote(0, 0.2, FromHz, -20), new SteadyNote(0.3, 0.5, ToHz, -20));
        var nothing = new FinePitch([0, 0], 2, [0, 0, 0], 0);
        return new CaughtFinder(nothing, curve, a, b, 0.25, false).Find(CarriedWays.Of(Contrary, Contrary.Changes[0], curve, a, b), true);
    }

    private static ChangeCurve Curve(Func<double, double> hz)
    {
        var curve = new ChangeCurve(0, 500);
        for (var i = 0; i < curve.Count; i++) (curve.Hz[i], curve.Strength[i], curve.Db[i], curve.Window[i]) = (hz(curve.Time(i)), 0.99f, -20, 0.013);
        return curve;
    }

    private static List<ChangeJudgement> Judged(Plan plan, FaultOrder order)
    {
        var take = Voice.Render(plan, order.On(plan));
        return [.. Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), plan), plan).Changes];
    }
}
