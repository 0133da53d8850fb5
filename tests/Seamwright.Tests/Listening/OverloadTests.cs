using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Tests.Sound.PlayAlong;

namespace Seamwright.Tests.Listening;

/// <summary>A recording that was driven too far: levels read too small, so no touch is called missing.</summary>
public sealed class OverloadTests(EchoTests.Played played) : IClassFixture<EchoTests.Played>
{
    [Theory]
    [InlineData(1f)]
    [InlineData(0.5f)] // turned down afterwards: flat tops below full scale
    public void Cut_off_tops_are_found_where_they_are(float turned)
    {
        var tone = Enumerable.Range(0, 48_000).Select(i => (float)Math.Sin(2 * Math.PI * 117 * i / 48_000.0)).ToArray();
        var sound = tone.Select((x, i) => i is > 12_000 and < 24_000 ? Math.Clamp(x * 1.5f, -1, 1) * turned : 0.5f * x * turned).ToArray();
        var (whole, pieces) = (new Overload(48_000), new Overload(48_000));
        whole.Push(sound);
        for (var i = 0; i < sound.Length; i += 77) pieces.Push(sound.AsSpan(i, Math.Min(77, sound.Length - i)));
        var cut = 2 / Math.PI * Math.Acos(1 / 1.5); // of a sine of amplitude 1.5 above 1
        Assert.InRange(whole.Share(0.26, 0.49), 0.95 * cut, 1.05 * cut);
        Assert.Equal(0, whole.Share(0.55, 1));
        Assert.Equal(whole.Share(0.26, 0.49), pieces.Share(0.26, 0.49));
        Assert.Equal(whole.AtFullScale, pieces.AtFullScale);
    }

    [Fact]
    public void Silence_and_whole_tones_are_not_overdriven()
    {
        var overload = new Overload(48_000);
        overload.Push(new float[4800]);
        overload.Push([.. Enumerable.Range(0, 48_000).Select(i => (float)Math.Round(16_000 * Math.Sin(2 * Math.PI * 58.3 * i / 48_000.0)) / 32_768)]);
        Assert.Equal(0, overload.Share(0, 2));
    }

    [Theory]
    [InlineData(1f)]
    [InlineData(0.5f)]
    public void No_touch_is_called_missing_where_the_tops_were_cut_off(float turned)
    {
        var samples = played.Sound.Samples.ToArray();
        var most = samples.Max(Math.Abs);
        var loud = samples.Select(x => Math.Clamp(x * 40 / most, -1, 1) * turned).ToArray();
        var take = Listener.Listen(new Recording(loud, played.Sound.Rate), played.Plan);
        var judged = Diagnostician.Judge(take, played.Plan);
        Assert.Contains(take.Changes, c => c.Doubts.Contains(Doubt.Clipping));
        Assert.DoesNotContain(judged.Changes, c => c.Verdicts.Contains(Verdict.NoTongue));
        Assert.DoesNotContain(Listener.Listen(played.Sound, played.Plan).Changes, c => c.Doubts.Contains(Doubt.Clipping));
    }

    [Fact]
    public void A_slide_is_not_called_heard_where_cut_off_tops_hide_how_deep_the_touch_was()
    {
        var plan = Parts.Of(Parts.Melody("low-tide"));
        var samples = Voice.Render(plan, Playing.Clean(plan)).Samples.ToArray();
        var cut = samples.Select(x => Math.Clamp(x * 4, -0.6f, 0.6f)).ToArray();
        var take = Listener.Listen(new Recording(cut, VoiceSettings.Default.Rate), plan);
        Assert.True(Diagnostician.Judge(take, plan).Changes.Count(c => c.Verdicts.Contains(Verdict.Smear) || c.Verdicts.Contains(Verdict.SmearPossible)) <= plan.Changes.Length / 10);
        Assert.Contains(take.Problems, p => p.What.Contains("cut off flat below full scale"));
        Assert.DoesNotContain(Listener.Listen(new Recording(samples, VoiceSettings.Default.Rate), plan).Problems, p => p.What.Contains("cut off"));
    }
}
