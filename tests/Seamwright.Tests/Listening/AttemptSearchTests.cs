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
                // One pitch held through the break is one tone: where they meet nobody could tell.
                var broken = plan.Notes.Last(n => n.Note.StartTime.Value < cut).Note.Pitch;
                track.Rest(broken == plan.Notes[from].Note.Pitch ? Math.Max(pause, 0.05) : pause);
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
        Assert.InRange((double)four / one, 3, 8);

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
    public void An_hour_of_practice_on_two_hundred_notes_allocates_less_than_two_hundred_megabytes_in_all()
    {
        var plan = AttemptTape.PlanOf(string.Join(' ', Enumerable.Repeat(Line, 10)));
        var track = new AttemptTrack();
        for (var i = 0; track.Frames < 720_000; i++)
        {
            track.Rest(2);
            track.Play(plan, BarStarts[i % BarStarts.Length] + (22 * (i % 10)), until: 30 + (i % 5 * 40), tempo: 0.8 + (0.1 * (i % 4)));
        }

        var sounding = track.Sounding;
        var before = GC.GetAllocatedBytesForCurrentThread();
        var found = AttemptFinder.Of(sounding, plan, 70);
        Assert.InRange((GC.GetAllocatedBytesForCurrentThread() - before) / 1e6, 0, 200);
        Assert.InRange(found.Attempts.Length, 30, 60);
        Assert.Empty(found.Unmatched);
    }

    [Fact]
    public void Whatever_a_recording_holds_attempts_and_leftovers_stay_in_order_and_apart()
    {
        var lines = new[] { Line, "Bb2", "F3~ F3~ F3", "Bb2:1/8~ C3:1/8~ Bb2:1/8", "Bb2:4' C3:4" };
        Gen.Select(Gen.Int[0, lines.Length - 1], Gen.Int[40, 66].Select(Gen.Int[1, 90], Gen.Int[0, 3]).Array[0, 60]).Sample(
            (line, pieces) =>
            {
                var (pitch, db) = (new List<float>(), new List<double>());
                foreach (var (midi, length, kind) in pieces)
                {
                    for (var i = 0; i < length; i++)
                    {
                        pitch.Add(kind == 0 ? float.NaN : kind == 1 ? midi + (0.05f * i) : midi);
                        db.Add(kind == 0 ? -80 : -20 - (kind * Math.Abs((i % 20) - 10)));
                    }
                }

                var sound = new Sounding([.. pitch], [.. db], [.. db.Select(d => d < -60)], 0.005);
                return IsInOrder(AttemptFinder.Of(sound, AttemptTape.PlanOf(lines[line]), 70), pitch.Count);
            },
            iter: 500);
    }

    private static bool IsInOrder(FoundAttempts found, int frames)
    {
        var stretches = found.Attempts.SelectMany(a => a.Stretches).Where(s => s is not null).Select(s => s!.Value).ToList();
        var unmatched = found.Unmatched.Select(u => new Stretch((int)Math.Round(u.Start.Value / 0.005), (int)Math.Round(u.End.Value / 0.005))).ToList();
        return Rising(stretches) && Rising(unmatched) && !stretches.Exists(s => unmatched.Exists(u => u.From < s.To && s.From < u.To));

        bool Rising(List<Stretch> all) =>
            all.TrueForAll(s => s.From >= 0 && s.From < s.To && s.To <= frames) && all.Zip(all.Skip(1)).All(p => p.First.To <= p.Second.From);
    }
}
