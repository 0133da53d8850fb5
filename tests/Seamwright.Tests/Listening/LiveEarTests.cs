using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using Seamwright.TestSound;

namespace Seamwright.Tests.Listening;

/// <summary>The one ear, fed in blocks as a microphone feeds it.</summary>
public class LiveEarTests
{
    private static readonly Plan Plan = Planner.Plan(TestLines.Of("Bb2:1~ C3:1~ D3:1~ Eb3:1~ F3:2", 96), Catalogue.Find("tenor-straight")!).Value;

    [Theory]
    [InlineData(48000, 1)]
    [InlineData(44100, 480)]
    [InlineData(22050, 1001)]
    public void Blocks_of_any_size_give_the_same_take_as_the_whole(int rate, int largest)
    {
        var recording = Played(rate);
        var whole = Listener.Listen(recording, Plan);
        var ear = new LiveEar(recording.Rate, expected: Listener.PitchesOf(Plan));
        var random = new Random(5);
        var samples = recording.Samples.Span;
        while (!samples.IsEmpty)
        {
            var take = Math.Min(samples.Length, random.Next(1, largest + 1));
            ear.Push(samples[..take]);
            samples = samples[take..];
        }

        var pieces = Listener.Listen(ear, Plan);
        Assert.Equal(whole.Track.Frames, pieces.Track.Frames);
        Assert.Equal(whole.Notes, pieces.Notes);
        Assert.Equal(whole.Changes.Select(c => c with { Doubts = [], Arm = null }), pieces.Changes.Select(c => c with { Doubts = [], Arm = null }));
    }

    [Fact]
    public void Where_nobody_looks_at_the_track_its_ways_are_not_followed_and_nothing_else_differs()
    {
        var recording = Played(22050);
        var whole = Listener.Listen(recording, Plan);
        var less = Listener.Listen(recording, Plan, ListeningSettings.Default with { FollowWays = false });
        Assert.Equal(whole.Notes, less.Notes);
        Assert.Equal(whole.Changes.Select(c => c with { Doubts = [], Arm = null }), less.Changes.Select(c => c with { Doubts = [], Arm = null }));
        Assert.NotEqual(whole.Track.Frames, less.Track.Frames);
    }

    [Fact]
    public void A_frame_is_shown_no_later_than_sixty_milliseconds_and_shows_what_is_played()
    {
        var recording = Played(48000);
        var ear = new LiveEar(recording.Rate);
        var shown = new List<LiveFrame>();
        var samples = recording.Samples.Span;
        for (var at = 0; at + 240 <= samples.Length; at += 240)
        {
            ear.Push(samples.Slice(at, 240), shown);
            var now = (at + 240) / 48000.0;
            if (now > 0.1) Assert.True(now - shown[^1].Time.Value <= 0.06, $"{now:0.000} s: the newest frame is of {shown[^1].Time}");
        }

        var final = Listener.Listen(ear, Plan).Track;
        var both = shown.Where(f => f.Frame.Pitch is not null && final.Frames[(int)Math.Round(f.Time.Value / LiveEar.Hop)].Pitch is not null).ToList();
        Assert.True(both.Count > 400);
        var off = both.Count(f => Math.Abs(f.Frame.Pitch!.Value.Above(final.Frames[(int)Math.Round(f.Time.Value / LiveEar.Hop)].Pitch!.Value).Value) > 50);
        Assert.True(off < 0.05 * both.Count, $"{off} of {both.Count} frames shown live are more than 50 cents from the final reading");
    }

    private static Recording Played(int rate)
    {
        var take = SimpleSource.Render(Plan, Playing.Clean(Plan), new SimpleSourceSettings { Rate = new SampleRate(rate) });
        return new(take.Samples, take.Rate);
    }
}
