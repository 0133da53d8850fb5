using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Listening;

/// <summary>Silence that stands for what a file could not give is not the player's.</summary>
public sealed class DamageTests
{
    private static readonly Plan Plan = AttemptTape.PlanOf("Bb2:2~ C3:2~ D3:2~ Eb3:2~ F3:2~ G3:2~ F3:2", 80);

    [Fact]
    public void A_hole_in_the_file_is_neither_a_fault_nor_clean()
    {
        var (samples, rate, middle) = Played();
        var (from, to) = (middle - 0.05, middle + 0.09);
        samples.AsSpan((int)(from * rate.Value), (int)((to - from) * rate.Value)).Clear();
        Assert.Contains(Verdict.AirStopped, Judged(new Recording(samples, rate)).Changes[3].Verdicts);
        var told = Judged(new Recording(samples, rate) { Damage = [new(new(from), new(to))] });
        Assert.Equal("the file is damaged here", Assert.Single(told.Changes[3].Findings).Basis);
        Assert.Equal([Verdict.CannotTell], told.Changes[3].Verdicts);
        Assert.Empty(told.Changes[3].Remarks);
        Assert.All(told.Notes.Where(n => n.Index is 3 or 4), n => Assert.Equal("the file is damaged here", Assert.Single(n.Findings).Basis));
        Assert.DoesNotContain(told.Summary.WorkOnFirst, w => w.Contains("air stopped", StringComparison.Ordinal));
    }

    [Fact]
    public void What_is_far_from_the_hole_is_judged_as_ever()
    {
        var (samples, rate, middle) = Played();
        var whole = Judged(new Recording(samples, rate));
        var told = Judged(new Recording(samples, rate) { Damage = [new(new(middle), new(middle + 0.01))] });
        Assert.All(new[] { 0, 1, 5 }, i => Assert.Equal(whole.Changes[i].Verdicts, told.Changes[i].Verdicts));
        Assert.Equal([Verdict.CannotTell], told.Changes[3].Verdicts);
    }

    private static Diagnosis Judged(Recording recording) => Diagnostician.Judge(Listener.Listen(recording, Plan), Plan);

    // A clean take, and the moment of its fourth change.
    private static (float[] Samples, SampleRate Rate, double Middle) Played()
    {
        var take = Voice.Render(Plan, Playing.Clean(Plan));
        var change = take.Truth.Changes[3];
        return (take.Samples.ToArray(), take.Rate, (change.DipCentre ?? change.GlideCentre)!.Value.Value);
    }
}
