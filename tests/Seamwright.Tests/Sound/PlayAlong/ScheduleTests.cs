using Seamwright.Core.Scores;
using Seamwright.Core.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Sound.PlayAlong;

public class ScheduleTests
{
    private static readonly PlayAlongSettings Plain = new() { PhraseBars = 2 };

    private static readonly Part FourBars = Parts.Written("4/4", N("C3", 48), N("D3", 48), N("E3", 48), N("F3", 48));

    [Fact]
    public void Your_turn_is_as_long_as_the_example_to_the_sample_and_sections_leave_no_gap()
    {
        var schedule = Parts.Schedule(Parts.Melody("evening-ferry"), new PlayAlongSettings(), 73);
        var turns = schedule.Sections.Where(s => s.Phrase is not null).ToList();
        Assert.All(turns.Where((_, i) => i % 2 == 0).Zip(turns.Where((_, i) => i % 2 == 1)), p =>
        {
            Assert.Equal((SectionKind.Example, SectionKind.You), (p.First.Kind, p.Second.Kind));
            Assert.Equal(p.First.Length, p.Second.Length);
        });
        Assert.All(schedule.Sections.Zip(schedule.Sections.Skip(1)), p => Assert.Equal(p.First.End, p.Second.Start));
    }

    [Fact]
    public void Rounds_are_counted_in_at_their_own_tempo()
    {
        var schedule = Parts.Schedule(FourBars, Plain, 60, 120);
        Assert.Equal(["CountIn 0 4", "Example 4 8", "You 12 8", "Example 20 8", "You 28 8", "CountIn 36 2", "Example 38 4", "You 42 4", "Example 46 4", "You 50 4"],
            schedule.Sections.Select(s => $"{s.Kind} {s.Start / 48000.0} {s.Length / 48000.0}"));
    }

    [Theory]
    [InlineData("4/4", 48, null, 4)]
    [InlineData("2/4", 24, null, 4)]
    [InlineData("6/8", 36, null, 6)]
    [InlineData("3/4", 36, 2, 6)]
    [InlineData("3/4", 36, 0, 0)]
    public void The_count_in_has_the_bars_that_are_asked_for(string time, int length, int? bars, double quarters)
    {
        var part = Parts.Written(time, N("C3", length));
        var schedule = Parts.Schedule(part, Plain with { CountIn = bars });
        Assert.Equal(quarters, schedule.Sections.Where(s => s.Kind == SectionKind.CountIn).Sum(s => s.Length) / 48000.0);
    }

    [Fact]
    public void Where_no_click_would_be_heard_none_is_counted_unless_that_is_asked()
    {
        Assert.DoesNotContain(Parts.Schedule(FourBars, Plain with { Click = ClickUse.None }).Sections, s => s.Kind == SectionKind.CountIn);
        Assert.Contains(Parts.Schedule(FourBars, Plain with { Click = ClickUse.None, CountIn = 1 }).Sections, s => s.Kind == SectionKind.CountIn);
    }

    [Fact]
    public void What_nobody_would_hear_is_no_play_along()
    {
        var silent = Plain with { Turns = Turns.YouOnly, Click = ClickUse.None };
        Assert.Contains(PlayAlongMaker.LayOut([Parts.Of(FourBars)], silent).Problems, p => p.What.Contains("Nothing would be heard"));
        Assert.True(PlayAlongMaker.LayOut([Parts.Of(FourBars)], silent with { Drone = DroneNotes.Tonic }).Succeeded);
    }

    [Fact]
    public void Before_an_upbeat_the_count_goes_on_to_it_and_the_bars_never_limp()
    {
        var part = Parts.Written("4/4",
            $"<measure number=\"0\" implicit=\"yes\">START{N("C3", 12)}</measure>",
            N("D3", 24) + N("E3", 24), N("F3", 36) + N("C3", 12), N("D3", 24) + N("E3", 24), N("F3", 36));
        var schedule = Parts.Schedule(part, Plain, 60, 60);
        Assert.Equal(7, schedule.Sections[0].Length / 48000.0);
        AssertSteady(schedule, 4);
    }

    [Fact]
    public void A_phrase_that_ends_inside_the_bar_is_waited_out()
    {
        // The second phrase begins with an upbeat that the first has not: beat 4 is waited for, once.
        var breath = N("F3", 36).Replace("</note>", "<notations><articulations><breath-mark/></articulations></notations></note>");
        var part = Parts.Written("4/4", N("D3", 48), N("D3", 24) + N("E3", 24), breath + N("C3", 12), N("D3", 48), N("D3", 24) + N("E3", 24), N("F3", 48));
        var schedule = Parts.Schedule(part, new PlayAlongSettings());
        Assert.Equal(["CountIn 4", "Example 11", "Wait 1", "You 11", "Example 13", "Wait 3", "You 13"], schedule.Sections.Select(s => $"{s.Kind} {s.Length / 48000.0}"));
        AssertSteady(schedule, 4);
    }

    [Fact]
    public void Subdivisions_follow_the_kind_of_meter()
    {
        Assert.Equal(8, Count("4/4", 48, 2));
        Assert.Equal(6, Count("6/8", 36, 2));
        Assert.Equal(6, Count("6/8", 36, 3));
        Assert.Equal(12, Count("6/8", 36, 4));
        Assert.Equal(5, Count("3+2/8", 30, 3));
        Assert.Equal(2, Count("3+2/8", 30, 1));

        static int Count(string time, int length, int division) =>
            Parts.Schedule(Parts.Written(time, N("C3", length)), new PlayAlongSettings { Subdivision = division, Turns = Turns.ExampleOnly, CountIn = 0 }).Beats.Length;
    }

    [Fact]
    public void Tempo_changes_and_fermatas_move_the_clicks()
    {
        var part = Parts.Written("4/4", N("C3", 24) + "<sound tempo=\"120\"/>" + N("D3", 24),
            N("E3", 12).Replace("</note>", "<notations><fermata/></notations></note>") + N("F3", 36));
        var schedule = Parts.Schedule(part, new PlayAlongSettings { Turns = Turns.ExampleOnly, CountIn = 0 });
        Assert.Equal([0, 1, 2, 2.5, 3, 3.875, 4.375, 4.875], schedule.Beats.Select(b => b.At / 48000.0));
    }

    [Fact]
    public void What_cannot_be_is_told()
    {
        var plan = Parts.Of(FourBars);
        Assert.Contains(PlayAlongMaker.LayOut([]).Problems, p => p.Where == "rounds");
        Assert.Contains(PlayAlongMaker.LayOut([.. Enumerable.Repeat(plan, 51)]).Problems, p => p.Where == "rounds");
        Assert.Contains(PlayAlongMaker.LayOut([plan], new PlayAlongSettings { CountIn = 9 }).Problems, p => p.Where.Contains("count-in"));
        Assert.Contains(PlayAlongMaker.LayOut([Parts.Of(Parts.Written("4/4", N("C1", 48)))]).Problems, p => p.What.Contains("C1 (bar 1, beat 1)"));
        var slow = Parts.Of(Parts.Written("4/4", [.. Enumerable.Repeat(N("C3", 48), 2000)]), 10);
        Assert.Contains(PlayAlongMaker.LayOut([slow]).Problems, p => p.What.Contains("hours"));
    }

    // Downbeats come every so many seconds, from the first click to the last.
    private static void AssertSteady(Schedule schedule, double seconds)
    {
        var downbeats = schedule.Beats.Where(b => b.Strength == BeatStrength.Downbeat).Select(b => b.At / 48000.0).ToList();
        Assert.True(downbeats.Count > 5);
        Assert.All(downbeats.Zip(downbeats.Skip(1)), p => Assert.Equal(seconds, p.Second - p.First, 6));
    }
}
