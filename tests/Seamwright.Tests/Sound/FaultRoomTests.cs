using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Sound;

public sealed class FaultRoomTests
{
    // A minimum-jerk movement takes 0.507 of its time from 10 to 90 per cent (Flash & Hogan 1985); the arm moves in 0.8 of the note.
    private const double SlowestShare = 0.507 * 0.8;

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.3)]
    [InlineData(1)]
    public void A_slide_is_as_slow_as_the_note_before_it_lets_the_arm_be(double seconds)
    {
        var plan = Line(seconds);
        var much = new FaultOrder(Fault.Smeared, 165, []).At(plan, plan.Changes[1])!.Value;
        Assert.Equal(Math.Min(165, 1000 * SlowestShare * seconds), much, 0.2);
    }

    [Theory] // What is told is what the curves became.
    [InlineData(Fault.Smeared, 320, 0.4)]
    [InlineData(Fault.NoTongue, 200, 0.2)]
    [InlineData(Fault.LateTongue, 150, 0.3)]
    [InlineData(Fault.EarlyTongue, 150, 0.2)]
    [InlineData(Fault.StoppedAir, 300, 0.25)]
    public void What_fits_is_told_and_made(Fault fault, double asked, double seconds)
    {
        var plan = Line(seconds);
        var order = new FaultOrder(fault, asked, []).Placed(plan);
        var truth = Voice.Render(plan, order.On(plan)).Truth;
        Assert.Contains(order.Changes, c => order.At(plan, plan.Changes[c]) < asked - 1);
        foreach (var change in order.Changes.Select(c => plan.Changes[c]))
        {
            var told = order.At(plan, change)!.Value;
            Assert.InRange(told, 20, asked);
            Assert.Equal(fault == Fault.EarlyTongue ? -told : told, Made(fault, truth.Changes[change.Index])!.Value, 1.5);
        }
    }

    [Fact]
    public void Where_not_even_the_least_fits_the_change_is_played_clean()
    {
        var plan = Line(0.1);
        var order = new FaultOrder(Fault.StoppedAir, 100, []);
        Assert.Empty(order.Placed(plan).Changes);
        Assert.Equal(Playing.Clean(plan).Changes, order.On(plan).Changes);
    }

    [Theory] // A cut runs into the next one: there is no level between them to be below.
    [InlineData(0.2, 0)]
    [InlineData(0.3, 4)]
    public void A_hard_tongue_needs_notes_that_come_to_their_own_level(double seconds, int struck) =>
        Assert.Equal(struck, new FaultOrder(Fault.HardTongue, 19, []).Placed(Line(seconds)).Changes.Length);

    [Fact]
    public void A_phrase_is_played_as_the_whole_part_has_room_for()
    {
        var plan = Line(0.3);
        var order = new FaultOrder(Fault.LateTongue, 150, [2]);
        var whole = order.On(plan);
        Assert.Equal(whole.Changes[2].DipOffset.Milliseconds, order.At(plan, plan.Changes[2])!.Value, 1e-9);
        Assert.Equal(whole.Changes[2], whole.Excerpt(2, 3).Changes.Single());
        Assert.Equal(2, whole.Excerpt(2, 3).Cents.Length);
    }

    private static double? Made(Fault fault, ChangeTruth truth) => fault switch
    {
        Fault.StoppedAir => truth.Gap?.Milliseconds,
        Fault.LateTongue or Fault.EarlyTongue => truth.TongueOffset?.Milliseconds,
        _ => truth.Glide?.Milliseconds,
    };

    // Slides on one partial, each a tone up or down.
    private static Plan Line(double seconds)
    {
        var map = TempoMap.Steady(60 / seconds);
        var notes = "Bb3 Ab3 Bb3 Ab3 Bb3".Split(' ').Select((p, i) => new PlayedNote
        {
            Index = i,
            NoteIds = [$"n{i}"],
            Bar = "1",
            Beat = new Beats(i + 1, 1),
            Pitch = Pitch.Parse(p),
            Start = new Beats(i, 1),
            Length = Beats.Quarter,
            StartTime = map.At(new Beats(i, 1)),
            Duration = map.Between(new Beats(i, 1), new Beats(i + 1, 1)),
            SlurredToNext = i < 4,
        });
        var settings = new PlanSettings { Weights = CostWeights.Presets["plain-positions"], Player = new Player { Policy = TonguePolicy.EveryNote, ValvesAllowed = false } };
        var plan = Planner.Plan(new Line { Title = "Short", Notes = [.. notes], Tempo = map }, Catalogue.Find("tenor-f")!, settings).Value;
        Assert.All(plan.Changes, c => Assert.True(plan.StaysOnPartial(c)));
        return plan;
    }
}
