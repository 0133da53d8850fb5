using System.Collections.Immutable;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using static Seamwright.Tests.Diagnoses.VerdictCases;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What a reader is told to do, and about how much of the line.</summary>
public class AdviceTests
{
    private const string Scale = "Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2";

    [Fact] // The second change smears and its tongue is late, which weighs more.
    public void A_fault_is_counted_wherever_it_occurs_and_its_example_is_its_own_in_order_of_bars()
    {
        var smeared = Fine() with { AudibleGlide = Ms(150) };
        var both = Fine() with { AudibleGlide = Ms(130), DipCentre = new(2.15) };
        var judged = Diagnostician.Judge(TakeOf(Changes(Fine(), both, Fine(), smeared, Fine(), smeared, Fine()), PlanOf(Scale)), PlanOf(Scale));
        var smear = Assert.Single(judged.Summary.WorkOnFirst, w => w.StartsWith("A smear", StringComparison.Ordinal));
        Assert.StartsWith($"A smear was heard {judged.Summary.ChangeCounts[Verdict.Smear]} times (bars 2, 3 and 4). For instance bar 3: The slide was heard for 150 ms", smear);
    }

    [Fact] // Six bars with a smear each, the last the worst: its note bursts as well.
    public void The_bar_that_is_spoken_of_is_among_those_named()
    {
        const string Long = "Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2~ Bb3:2~ Ab3:2";
        HeardChange[] changes = [.. Enumerable.Range(0, 11).Select(i => Fine() with { AudibleGlide = Ms(i % 2 == 1 ? 0 : i == 10 ? 190 : 150), Overshoot = new(i == 10 ? 6 : 0) })];
        var judged = Diagnostician.Judge(TakeOf(Changes(changes), PlanOf(Long)), PlanOf(Long));
        var smear = Assert.Single(judged.Summary.WorkOnFirst, w => w.StartsWith("A smear", StringComparison.Ordinal));
        var spoken = smear.Split("For instance ")[1].Split(':')[0];
        Assert.Contains(spoken.Replace("bar ", "", StringComparison.Ordinal), smear.Split('(', ')')[1]);
    }

    [Theory] // Too near for "early" or "late", too far to be one moment: it is the tongue that leaves the slide open.
    [InlineData(45, "the tongue touched 45 ms after the arm was half way; touch a little earlier")]
    [InlineData(-45, "the tongue touched 45 ms before the arm was half way; wait for the slide")]
    [InlineData(5, "move a little faster")]
    public void A_slide_that_a_tongue_beside_it_leaves_open_is_the_tongues(double off, string told)
    {
        var judged = Judge(Fine() with { AudibleGlide = Ms(60), DipCentre = new(2 + (off / 1000)) });
        Assert.Equal([Verdict.SmearPossible], judged.Verdicts);
        Assert.Contains(told, judged.Advice);
    }

    [Fact]
    public void A_slur_that_asks_for_no_tongue_is_not_told_to_touch_softer()
    {
        var stopped = Touched(40) with { Gap = Ms(60), EarGap = Ms(60), Below10 = Ms(90) };
        Assert.DoesNotContain("tongue touch", Judge(stopped, AcrossPartials).Advice);
        Assert.Contains("tongue touch", Judge(stopped).Advice);
        var away = Touched(15) with { Below10 = Ms(90) };
        Assert.Equal([Verdict.TooHard], Judge(away, AcrossPartials).Verdicts);
        Assert.DoesNotContain("softer", Judge(away, AcrossPartials).Advice);
        Assert.Contains("softer", Judge(away).Advice);
    }

    [Fact] // Three of eight notes, and nothing else in the recording.
    public void A_take_that_stops_early_is_judged_as_far_as_it_goes()
    {
        var judged = Diagnostician.Judge(Heard(i => i < 3), PlanOf(Scale));
        Assert.Contains("3 of 8 notes were found, from bar 1 to bar 2", judged.Summary.Overall);
        Assert.DoesNotContain("another piece", judged.Summary.Overall);
        Assert.Contains(judged.Summary.WorkOnFirst, w => w.StartsWith("A smear", StringComparison.Ordinal));
    }

    [Fact] // The same three notes among a minute of other tones.
    public void Another_piece_is_not_coached()
    {
        var take = Heard(i => i < 3) with { Unmatched = [new(new(10), new(70), UnmatchedKind.Tones)] };
        var judged = Diagnostician.Judge(take, PlanOf(Scale));
        Assert.Contains("probably another piece", judged.Summary.Overall);
        Assert.Empty(judged.Summary.WorkOnFirst);
        Assert.All(judged.Changes, c => Assert.Equal([Verdict.CannotTell], c.Verdicts));
    }

    [Fact] // Four written notes, played twice, the fourth in an ending of its own each time; only the second time is heard.
    public void A_repeat_that_was_left_out_is_told()
    {
        var plan = PlanOf(Scale);
        plan = plan with { Notes = [.. plan.Notes.Select((n, i) => n with { Note = n.Note with { NoteIds = [i % 4 == 3 ? $"end{i}" : $"n{i % 4}"], Pass = 1 + (i / 4) } })] };
        var judged = Diagnostician.Judge(Heard(i => i >= 4), plan);
        Assert.Contains("The repeat was left out.", judged.Summary.Overall);
        Assert.DoesNotContain("left out", Diagnostician.Judge(Heard(i => i >= 3), plan).Summary.Overall);
    }

    [Fact]
    public void What_the_best_attempt_left_out_is_told_from_the_others()
    {
        var plan = PlanOf(Scale);
        Attempt Pass(double at, Func<int, bool> found, HeardChange change) => new()
        {
            Start = new(at),
            End = new(at + 10),
            Notes = [.. Heard(found).Notes.Select(n => n.Found ? n with { Onset = new(at + (2 * n.Index)) } : n)],
            Changes = [.. plan.Changes.Select(c => found(c.FromNote) && found(c.ToNote) ? change with { Index = c.Index } : new HeardChange { Index = c.Index, Found = false })],
        };
        var (first, second) = (Pass(0, i => i < 4, Fine() with { AudibleGlide = Ms(150) }), Pass(30, i => i >= 3, Fine()));
        var take = (Heard(_ => true) with { Notes = second.Notes, Changes = second.Changes, Attempts = [first, second], Problems = [.. Listener.NotFound(second.Notes)] }).Completed();
        Assert.Equal(8, take.Notes.Count(n => n.Found));
        Assert.Empty(take.Problems);
        Assert.Equal(36, take.Notes[3].Onset!.Value.Value);
        var judged = Diagnostician.Judge(take, plan);
        Assert.Equal([false, true], judged.Attempts.Select(a => a.Best));
        Assert.Contains("A smear was heard 3 times", Assert.Single(judged.Summary.WorkOnFirst));
        Assert.Contains("attempt 2 of 2, the fullest; what it left out is told from the others", judged.Summary.Overall);
    }

    [Fact]
    public void Of_two_equal_attempts_none_is_called_the_fullest()
    {
        var take = Heard(_ => true);
        Attempt Pass(double at, ImmutableArray<HeardNote> notes) => new() { Start = new(at), End = new(at + 10), Notes = notes, Changes = take.Changes };
        take = take with { Attempts = [Pass(0, [.. take.Notes]), Pass(30, take.Notes)] };
        Assert.Contains("This is attempt 2 of 2, the last of the fullest.", Diagnostician.Judge(take, PlanOf(Scale)).Summary.Overall);
    }

    [Fact]
    public void A_slide_taken_for_a_glissando_without_a_part_is_told()
    {
        var plan = PlanOf(OnOnePartial);
        plan = plan with { Line = plan.Line with { FromRecording = true }, Changes = [plan.Changes[0] with { Kind = ChangeKind.Glissando }] };
        var take = TakeOf([Fine() with { Glide = Ms(222), GlideBounds = MsBounds(210, 230) }], plan);
        var judged = Diagnostician.Judge(take, plan);
        using var text = new StringWriter();
        TakeText.Write(take, judged, plan, text);
        Assert.Contains("Taken for a glissando: the slide is heard for 222 ms.", System.Text.RegularExpressions.Regex.Replace(text.ToString(), @"\s+", " "));
    }

    private static ImmutableArray<HeardChange> Changes(params HeardChange[] changes) => [.. changes.Select((c, i) => c with { Index = i })];

    // Smeared throughout; only some notes are found.
    private static Take Heard(Func<int, bool> found)
    {
        var plan = PlanOf(Scale);
        var changes = plan.Changes.Select(c => found(c.FromNote) && found(c.ToNote) ? Fine() with { Index = c.Index, AudibleGlide = Ms(150) } : new HeardChange { Index = c.Index, Found = false });
        return TakeOf([.. changes], plan, n => found(n.Index) ? n : new HeardNote { Index = n.Index, Pitch = n.Pitch, Found = false });
    }
}
