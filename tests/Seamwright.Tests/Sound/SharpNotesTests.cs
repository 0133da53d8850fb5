using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Sound;
using Seamwright.Tests.Sound.PlayAlong;

namespace Seamwright.Tests.Sound;

public class SharpNotesTests
{
    [Theory]
    [InlineData("evening-ferry")]
    [InlineData("low-tide")]
    [InlineData("harbour-lamps")]
    [InlineData("mill-race")]
    public void The_ear_names_just_the_notes_that_were_made_sharp_and_the_take_stays_in_tune(string melody)
    {
        var plan = Parts.Of(Parts.Melody(melody));
        var order = new FaultOrder(Fault.OutOfTune, null, []).Placed(plan);
        var take = Voice.Render(plan, order.On(plan));
        var heard = Listener.Listen(new Recording(take.Samples, take.Rate), plan);
        var diagnosis = Diagnostician.Judge(heard, plan);
        Assert.Equal(order.Changes.Select(c => c + 1), diagnosis.Notes.Where(n => n.Verdicts.Contains(Verdict.OutOfTune)).Select(n => n.Index));
        Assert.InRange(order.Changes.Length, 2, plan.Notes.Length / 8);
    }

    [Fact]
    public void Sharp_notes_lie_four_notes_apart_and_leave_most_pitches_alone()
    {
        var plan = Parts.Of(Parts.Melody("evening-ferry"));
        var notes = new FaultOrder(Fault.OutOfTune, null, []).Placed(plan).Changes.Select(c => c + 1).ToList();
        Assert.All(notes.Zip(notes.Skip(1)), p => Assert.True(p.Second - p.First >= 4));
        var pitches = plan.Notes.GroupBy(n => n.Note.Pitch).ToList();
        Assert.True(pitches.Count(g => 2 * g.Count(n => notes.Contains(n.Note.Index)) >= g.Count()) <= pitches.Count / 7);
    }

    [Fact]
    public void Where_places_are_named_or_a_fault_is_no_pitch_every_one_that_can_be_is_struck()
    {
        var plan = Parts.Of(Parts.Melody("evening-ferry"));
        Assert.Equal([3, 4, 5], new FaultOrder(Fault.OutOfTune, null, [3, 4, 5]).Placed(plan).Changes);
        Assert.Equal(plan.Changes.Where(c => FaultAmounts.Applies(Fault.Cracked, c)).Select(c => c.Index), new FaultOrder(Fault.Cracked, null, []).Placed(plan).Changes);
        Assert.Equal([4], new FaultOrder(Fault.OutOfTune, null, [3, 4]).Placed(plan, c => c != 3).Changes);
    }

    [Fact]
    public void A_written_rest_holds_nothing_that_belongs_to_no_note()
    {
        foreach (var melody in (string[])["long-bridge", "snow-on-slate"])
        {
            var plan = Parts.Of(Parts.Melody(melody));
            var quiet = VoiceSettings.Default with { Room = new(-200) };
            var take = Voice.Render(plan, Playing.Clean(plan), quiet);
            Assert.Empty(Listener.Listen(new Recording(take.Samples, take.Rate), plan).Unmatched);

            // Between two notes that a rest parts, from 0.15 s after the one to 60 ms before the other, the player is silent.
            foreach (var change in plan.Changes.Where(c => c.Kind == ChangeKind.Breath))
            {
                var (from, to) = (take.Truth.Notes[change.FromNote].Offset!.Value.Value + 0.15, take.Truth.Notes[change.ToNote].Onset!.Value.Value - 0.06);
                if (to > from) Assert.Equal(0, take.Samples.Span[(int)(from * 48_000)..(int)(to * 48_000)].ToArray().Max(Math.Abs), 1e-5f);
            }
        }
    }
}
