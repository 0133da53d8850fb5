using CsCheck;
using Seamwright.Core.Listening;

namespace Seamwright.Tests.Listening;

/// <summary>The search itself, on frames without sound.</summary>
public class AttemptSearchTests
{
    private const string Line = "Bb2~ C3~ D3~ F3 Eb3~ D3~ C3:2 D3~ F3~ G3~ Bb3 A3~ G3~ F3:2 G3~ Eb3~ C3~ A2 F3:2~ Eb3~ C3 Bb2:4";
    private static readonly int[] BarStarts = [0, 4, 7, 11, 14, 18];

    [Fact]
    public void Wherever_a_pass_breaks_off_and_whichever_bar_is_taken_up_again_the_second_pass_is_whole()
    {
        var plan = AttemptTape.PlanOf(Line);
        Gen.Select(Gen.Double[2.6, 17], Gen.Int[0, 5], Gen.OneOf(Gen.Const(0.0), Gen.Const(0.05), Gen.Const(0.4), Gen.Const(3.0)), Gen.Double[0.6, 1.7]).Sample(
            (cut, bar, pause, tempo) =>
            {
                var track = new AttemptTrack();
                track.Rest(0.5);
                var reached = track.Play(plan, until: cut / tempo, tempo: tempo).Count(n => track.Frames - n.Value > 20);

                // At least two notes are played again: fewer are a stumble inside one pass.
                var from = BarStarts.Where(b => b + 2 <= reached).ElementAt(bar % BarStarts.Count(b => b + 2 <= reached));
                track.Rest(pause);
                var second = track.Play(plan, from, tempo: tempo);
                track.Rest(0.5);
                var found = AttemptFinder.Of(track.Sounding, plan, 70);
                return found.Attempts.Length == 2
                    && second.All(n => found.Attempts[1].Stretches[n.Key] is { } s && Math.Abs(s.From - n.Value) <= 8)
                    && found.Attempts[1].First == from;
            },
            iter: 300);
    }

    [Fact]
    public void The_best_attempt_has_the_most_notes_and_is_the_later_of_equals()
    {
        var plan = AttemptTape.PlanOf(Line);
        var track = new AttemptTrack();
        foreach (var until in (double[])[6, 40, 40, 9])
        {
            track.Rest(1);
            track.Play(plan, until: until);
        }

        track.Rest(1);
        var found = AttemptFinder.Of(track.Sounding, plan, 70);
        Assert.Equal(4, found.Attempts.Length);
        Assert.Equal(2, found.Best);
    }

    [Fact]
    public void Work_grows_no_faster_than_the_recording()
    {
        var plan = AttemptTape.PlanOf(string.Join(' ', Enumerable.Repeat(Line, 4)));
        var (once, four) = (Practised(2), Practised(8));
        Assert.InRange((double)four.Steps / once.Steps, 3.5, 4.5);
        Assert.Equal(8, four.Attempts.Length);

        FoundAttempts Practised(int times)
        {
            var track = new AttemptTrack();
            for (var i = 0; i < times; i++)
            {
                track.Rest(2);
                track.Play(plan);
            }

            return AttemptFinder.Of(track.Sounding, plan, 70);
        }
    }

    [Fact]
    public void Work_grows_no_faster_than_the_part_times_the_recording()
    {
        var (one, four) = (Steps(1), Steps(4));
        Assert.InRange((double)four / one, 3, 17);

        static long Steps(int times)
        {
            var plan = AttemptTape.PlanOf(string.Join(' ', Enumerable.Repeat(Line, times)));
            var track = new AttemptTrack();
            track.Rest(1);
            track.Play(plan);
            return AttemptFinder.Of(track.Sounding, plan, 70).Steps;
        }
    }

    [Fact]
    public void An_hour_of_practice_on_two_hundred_notes_needs_tens_of_megabytes()
    {
        var plan = AttemptTape.PlanOf(string.Join(' ', Enumerable.Repeat(Line, 10)));
        var track = new AttemptTrack();
        for (var i = 0; track.Frames < 720_000; i++)
        {
            track.Rest(2);
            track.Play(plan, BarStarts[i % BarStarts.Length] + (22 * (i % 10)), until: 30 + (i % 5 * 40), tempo: 0.8 + (0.1 * (i % 4)));
        }

        var sounding = track.Sounding;
        var before = GC.GetTotalAllocatedBytes(precise: true);
        var found = AttemptFinder.Of(sounding, plan, 70);
        Assert.InRange((GC.GetTotalAllocatedBytes(precise: true) - before) / 1e6, 0, 400);
        Assert.InRange(found.Attempts.Length, 30, 60);
        Assert.Empty(found.Unmatched);
    }
}
