using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Listening;
using Seamwright.Core.Sound;
using Seamwright.Tests.Listening;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What is said where another note was played than was asked for.</summary>
public class WrongNoteTests
{
    private const string Asked = "Bb2:2 C3:2 D3:2 Eb3:2 F3:2 Bb3:2 F3:2 Eb3:2 D3:2 C3:2 Bb2:2";

    [Fact]
    public void A_wrong_note_is_named_with_its_place_and_comes_first()
    {
        var (take, diagnosis, plan) = Heard(Asked, Asked.Replace("Bb3", "C4", StringComparison.Ordinal));
        Assert.False(take.Notes[5].Found);
        Assert.StartsWith("A wrong note was played: bar 3, beat 3: C4 was heard in place of B♭3.", diagnosis.Summary.WorkOnFirst[0]);
        using var text = new StringWriter();
        TakeText.Write(take, diagnosis, plan, text);
        Assert.Contains("bar 3, beat 3: C4 was heard in place of B♭3", text.ToString());
        Assert.DoesNotContain("Not found in the recording", text.ToString());
        var report = ReportText.Of(take, diagnosis, plan, new("Wrong"));
        Assert.Contains(report.Notes, n => n.Contains("C4 was heard in place of B♭3", StringComparison.Ordinal));
    }

    [Fact]
    public void Two_wrong_notes_in_a_row_are_told_apart()
    {
        var (_, diagnosis, _) = Heard(Asked, "Bb2:2 C3:2 D3:2 Eb3:2 G3:2 C4:2 F3:2 Eb3:2 D3:2 C3:2 Bb2:2");
        Assert.Contains("G3 was heard in place of F3", diagnosis.Summary.WorkOnFirst[0]);
        Assert.Contains("C4 was heard in place of B♭3", diagnosis.Summary.WorkOnFirst[0]);
    }

    [Fact]
    public void A_wrong_note_on_the_repeat_is_told_as_such_though_the_slur_from_it_passes_the_right_one()
    {
        // The arm goes from the wrong note up through the right one to the next.
        var asked = "Bb2:1 C3:1 D3:1 C3:1 Ab3:1~ C4:1~ Eb4:1 D4:1 C4:1 Bb3:1 F3:1 Bb2:1";
        var (take, diagnosis, _) = Heard(asked, asked.Replace("Ab3", "Bb2", StringComparison.Ordinal));
        Assert.False(take.Notes[4].Found);
        Assert.Contains("B♭2 was heard in place of A♭3", diagnosis.Summary.WorkOnFirst[0]);
        Assert.DoesNotContain(diagnosis.Notes, n => n.Verdicts.Contains(Verdict.OutOfTune));
    }

    [Theory]
    [InlineData("Ab2:2 C3:2", 0, "bar 1, beat 1: A♭2 was heard in place of B♭2")]
    [InlineData("D3:2 C3:2", 0, "bar 1, beat 1: D3 was heard in place of B♭2")]
    public void A_wrong_first_note_is_named(string begins, int note, string said)
    {
        var (take, diagnosis, _) = Heard(Asked, begins + Asked["Bb2:2 C3:2".Length..]);
        Assert.False(take.Notes[note].Found);
        Assert.Contains(said, diagnosis.Summary.WorkOnFirst[0]);
    }

    [Fact]
    public void A_wrong_last_note_is_named()
    {
        var (take, diagnosis, _) = Heard(Asked, Asked[..^"Bb2:2".Length] + "A2:2");
        Assert.False(take.Notes[^1].Found);
        Assert.Contains("bar 6, beat 1: A2 was heard in place of B♭2", diagnosis.Summary.WorkOnFirst[0]);
    }

    [Theory]
    [InlineData("E3:2 A2:2", "", 0, "E3", "A2")]
    [InlineData("A2:2 Eb3:2", "", 0, "A2", "Eb3")]
    [InlineData("", "E3:2 A2:2", 9, "E3", "A2")]
    public void Two_wrong_notes_at_an_end_are_named(string begins, string ends, int first, string one, string two)
    {
        var played = begins.Length > 0 ? begins + Asked["Bb2:2 C3:2".Length..] : Asked[..^"C3:2 Bb2:2".Length] + ends;
        var (take, _, _) = Heard(Asked, played);
        Assert.Equal([one, two], take.Notes.Skip(first).Take(2).Select(n => n.Instead is { } pitch ? pitch.ToString().Replace("♭", "b", StringComparison.Ordinal) : "-"));
    }

    [Fact]
    public void A_pass_from_the_third_note_on_after_a_stumble_has_no_wrong_ones()
    {
        var (take, _, _) = Heard(Asked, $"F3:1 r:1 {Asked["Bb2:2 C3:2 ".Length..]}");
        Assert.All(take.Notes, n => Assert.Null(n.Instead));
    }

    [Fact]
    public void A_first_or_last_note_left_out_is_no_wrong_one()
    {
        foreach (var played in (string[])[Asked["Bb2:2 ".Length..], Asked[..^" Bb2:2".Length]])
            Assert.DoesNotContain(Heard(Asked, played).Diagnosis.Notes, n => n.Verdicts.Contains(Verdict.WrongNote));
    }

    [Fact]
    public void The_end_of_one_pass_is_no_wrong_first_note_of_the_next()
    {
        // The second pass leaves its first note out and follows without a pause.
        var (take, diagnosis, _) = Heard(Asked, $"{Asked} {Asked["Bb2:2 ".Length..]}");
        Assert.Equal(2, take.Attempts.Length);
        Assert.DoesNotContain(diagnosis.Notes, n => n.Verdicts.Contains(Verdict.WrongNote));
        Assert.All(take.Attempts, a => Assert.DoesNotContain(a.Notes, n => n.Instead is not null));
    }

    [Fact]
    public void A_note_in_whose_place_nothing_sounds_is_only_not_found()
    {
        var (take, diagnosis, plan) = Heard(Asked, Asked.Replace("Bb3:2", "r:2", StringComparison.Ordinal));
        Assert.DoesNotContain(diagnosis.Summary.WorkOnFirst, w => w.Contains("wrong note", StringComparison.Ordinal));
        using var text = new StringWriter();
        TakeText.Write(take, diagnosis, plan, text);
        Assert.Contains("Not found in the recording: B♭3 in bar 3", text.ToString());
    }

    [Fact]
    public void A_clean_take_has_no_wrong_note() => Assert.DoesNotContain(Heard(Asked, Asked).Diagnosis.Notes, n => n.Verdicts.Any(v => v != Verdict.Clean));

    private static (Take Take, Diagnosis Diagnosis, Core.Planning.Plan Plan) Heard(string asked, string played)
    {
        var (plan, other) = (AttemptTape.PlanOf(asked, 100), AttemptTape.PlanOf(played, 100));
        var sound = Voice.Render(other, Playing.Clean(other));
        var take = Listener.Listen(new Recording(sound.Samples, sound.Rate), plan);
        return (take, Diagnostician.Judge(take, plan), plan);
    }
}
