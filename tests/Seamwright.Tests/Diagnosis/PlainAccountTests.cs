using System.Text.RegularExpressions;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;
using Seamwright.Tests.Planning;
using DiagnosisOfTake = Seamwright.Core.Diagnosis.Diagnosis;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What a teacher reads says a thing once, and no two places differ.</summary>
public class PlainAccountTests
{
    private const string Line = "Bb2:2~ C3:2~ D3:2~ Eb3:2~ F3:2";
    private static readonly InventedTake Clean = Of(Line);

    [Fact]
    public void A_pitch_held_as_long_as_a_note_is_an_added_note_and_its_sound_is_told_once()
    {
        var (first, second) = (Clean.Take.Notes[1], Clean.Take.Notes[2]);
        var take = WithChange(Clean.Take, 1, c => c with { CaughtPitch = new(196), CaughtFor = Seconds.FromMilliseconds(236) }) with
        {
            Unmatched = [new(new((first.Onset!.Value.Value + second.Onset!.Value.Value) / 2), second.Onset.Value, UnmatchedKind.Tones)],
        };
        var (diagnosis, text) = Told(take, Clean.Plan);
        Assert.Contains("A wrong note was played: before bar 2, beat 1: G3 was played between C3 and D3 (236 ms or longer), where the part has no note.", text);
        Assert.Contains("added note", text);
        Assert.DoesNotContain("cracked", text);
        Assert.DoesNotContain("belongs to no note", text);
        Assert.Equal("added-note", Assert.Single(diagnosis.Changes[1].Verdicts).WireName());
        Assert.Equal("+", PlusOf(ReportText.Of(take, diagnosis, Clean.Plan, new("Added")).Marks.Single(m => m.Number is not null).Word));
    }

    [Theory]
    [InlineData(120, "cracked")]
    [InlineData(149, "cracked")]
    [InlineData(150, "added-note")]
    public void A_shorter_one_is_a_crack(double milliseconds, string verdict) =>
        Assert.Equal(verdict, Told(WithChange(Clean.Take, 1, c => c with { CaughtPitch = new(196), CaughtFor = Seconds.FromMilliseconds(milliseconds) }), Clean.Plan).Diagnosis.Changes[1].Verdicts[0].WireName());

    [Fact]
    public void Two_notes_that_changed_places_are_told_as_such()
    {
        // D3 is not found where it is written, and sounds between E♭3 and F3.
        var take = WithChange(Without(Clean.Take, 2), 3, c => c with { CaughtPitch = new(146.8), CaughtFor = Seconds.FromMilliseconds(236) });
        var text = Told(take, Clean.Plan).Text;
        Assert.Contains("D3 was played after E♭3 (236 ms or longer) and not before it, as is written", text);
        Assert.DoesNotContain("Not found in the recording", text);
    }

    [Fact]
    public void Nothing_leads_on_while_a_wrong_note_was_played()
    {
        var take = WithChange(Clean.Take, 1, c => c with { CaughtPitch = new(196), CaughtFor = Seconds.FromMilliseconds(236) });
        var next = NextExercises.Of(Diagnostician.Judge(take, Clean.Plan), Clean.Plan, Core.Exercises.Pupil.Of(Clean.Plan.Instrument));
        Assert.Empty(next.Value.Chosen);
        Assert.StartsWith("1 wrong note was played", next.Value.Sentence);
    }

    [Fact]
    public void What_is_open_beside_a_fault_is_counted_as_such_and_is_no_verdict_of_its_own()
    {
        var changes = Clean.Diagnosis.Changes;
        Finding open = new(Verdict.CannotTell, "a reason");
        var diagnosis = Clean.Diagnosis with { Changes = [changes[0] with { Findings = [new(Verdict.Smear, "heard"), open] }, changes[1] with { Findings = [open] }, .. changes.Skip(2)] };
        var text = Text(Clean.Take, diagnosis, Clean.Plan);
        Assert.Contains("1 could not be judged", text);
        Assert.Contains("A reason, 2 changes, 1 of them to mend all the same (bar", text);
        Assert.DoesNotContain("cannot tell", text);
        var report = ReportText.Of(Clean.Take, diagnosis, Clean.Plan, new("Open"));
        Assert.Equal([Verdict.Smear], report.Rows[1].Verdicts);
        Assert.Equal([Verdict.Smear], report.Troubles[0].Verdicts);
        Assert.Equal([Verdict.CannotTell], report.Rows[2].Verdicts);
    }

    [Fact]
    public void A_smear_that_is_only_plainer_is_no_fewer_and_more()
    {
        var (may, plain) = (Glides(Clean.Take, 0.065), Glides(Clean.Take, 0.2));
        var said = Compared(may, plain);
        Assert.DoesNotContain("instead of", said);
        Assert.Contains("as many faults of each kind; the slide is heard more plainly once. Worse in bar 1.", said);
        Assert.Contains("the slide is heard less plainly once. Better in bar 1.", Compared(plain, may));
    }

    [Fact]
    public void What_cannot_be_compared_names_the_attempt_that_leaves_it_open()
    {
        var open = WithChange(Clean.Take, 0, c => c with { Found = false });
        Assert.Contains("cannot be compared, for attempt 1 leaves", Compared(open, Clean.Take));
        var take = Passes(open, Clean.Take);
        Assert.Contains("Nothing was left open in the attempt that is told.", Page(take, Diagnostician.Judge(take, Clean.Plan), Clean.Plan));
    }

    [Fact]
    public void A_single_note_has_no_change_that_could_not_be_judged()
    {
        var one = Of("Bb2:4");
        var (diagnosis, text) = Told(one.Take, one.Plan);
        Assert.DoesNotContain("Changes", text);
        var page = Page(one.Take, diagnosis, one.Plan);
        Assert.DoesNotContain("No change could be judged", page);
        Assert.DoesNotContain("Nothing can be said", page);
    }

    [Fact]
    public void A_vibrato_all_along_is_told_in_one_line()
    {
        var take = Clean.Take with { Notes = [.. Clean.Take.Notes.Select(n => n with { Vibrato = new Vibrato(new(5 + (0.1 * n.Index)), new(20)) })] };
        var (diagnosis, text) = Told(take, Clean.Plan);
        Assert.Equal(1, Regex.Count(text, "vibrato"));
        Assert.Contains("All 5 notes have a vibrato: 5.0 to 5.4 swings a second, 20 cents to each side.", text);
        Assert.Equal(1, Regex.Count(Page(take, diagnosis, Clean.Plan), "vibrato"));
        Assert.All(diagnosis.Notes, n => Assert.Contains("vibrato", Assert.Single(n.Remarks)));
    }

    [Theory]
    [InlineData(80, "further than a tuning slide reaches")]
    [InlineData(-80, "further than a tuning slide reaches")]
    [InlineData(30, "the tuning slide about")]
    public void No_tuning_slide_is_sent_further_than_it_goes(double cents, string said)
    {
        var take = Clean.Take with { Notes = [.. Clean.Take.Notes.Select(n => n with { Cents = new(cents + (n.Index % 2)), CentsBounds = new(new(cents - 2), new(cents + 2)) })] };
        Assert.Contains(said, Diagnostician.Judge(take, Clean.Plan).Summary.WorkOnFirst[0]);
    }

    [Fact]
    public void The_legend_explains_only_what_a_picture_holds()
    {
        var faulty = InventedTake.WithEveryFault();
        Assert.DoesNotContain("dashed in blue", ReportText.Of(faulty.Take, faulty.Diagnosis, faulty.Plan, new("Legend")).Legend);
        var measured = faulty.WithIntervals();
        Assert.Contains("dashed in blue", ReportText.Of(measured.Take, measured.Diagnosis, measured.Plan, new("Legend")).Legend);
    }

    [Theory]
    [InlineData(ChangeKind.NaturalSlur, 0.02, 0.01, "")]
    [InlineData(ChangeKind.ValveSlur, 0.02, 0.01, "")]
    [InlineData(ChangeKind.SoftTongue, 0.02, 0.01, "+20, +10 to +30")]
    [InlineData(ChangeKind.SoftTongue, -0.04, 1.5, "")]
    [InlineData(ChangeKind.SoftTongue, 4, 0.01, "")]
    public void The_tongue_has_a_figure_only_where_it_was_asked_for_and_touched_at_a_moment(ChangeKind kind, double offset, double reach, string cell)
    {
        var plan = Clean.Plan with { Changes = [.. Clean.Plan.Changes.Select(c => c with { Kind = kind })] };
        var take = WithChange(Clean.Take, 1, c => c with
        {
            GlideCentre = new(5),
            DipCentre = new(5 + offset),
            TongueOffsetBounds = new(new(offset - reach), new(offset + reach)),
        });
        var diagnosis = Clean.Diagnosis with { Changes = [.. Clean.Diagnosis.Changes.Select(c => c with { Kind = kind })] };
        Assert.Equal(cell, ReportText.Of(take, diagnosis, plan, new("Tongue")).Rows[2].Cells[3]);
    }

    [Fact]
    public void A_pass_with_a_wrong_note_at_either_end_was_played_to_its_end()
    {
        var lost = Without(Without(Clean.Take, 0), 4);
        var take = lost with { Notes = [.. lost.Notes.Select(n => n.Found ? n : n with { Instead = Pitch.FromMidi(n.Pitch.Midi - 2) })] };
        var (diagnosis, text) = Told(take, Clean.Plan);
        Assert.Contains("3 of 5 notes were found, and in place of the other 2 other notes were played.", text);
        Assert.DoesNotContain("as far as it goes", text);
        var report = ReportText.Of(take, diagnosis, Clean.Plan, new("Ends"));
        Assert.Equal(["A♭2", "E♭3"], report.Marks.Where(m => m.Verdict == Verdict.WrongNote).Select(m => m.Word));
        Assert.Equal([Verdict.WrongNote], report.Rows[0].Verdicts);
        Assert.Equal([Verdict.WrongNote], report.Rows[4].Verdicts);
        Assert.Equal(2, report.Notes.Count(n => n.Contains("in place of", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_dry_place_is_not_sent_into_a_drier_one()
    {
        var reason = OpenReason.Of(Doubt.Reverberation, Clean.Take.Changes[0]);
        Assert.DoesNotContain("room", reason.Words);
        Assert.EndsWith("if this one rings", reason.Remedy);
    }

    private static string PlusOf(string word) => word[..1];

    private static InventedTake Of(string line)
    {
        var plan = Planner.Plan(TestLines.Of(line), Catalogue.Default).Value;
        return InventedTake.Of(plan, plan.Changes.ToDictionary(c => c.Index, _ => Fault.None), lost: -1);
    }

    private static Take WithChange(Take take, int change, Func<HeardChange, HeardChange> made) => take with { Changes = take.Changes.SetItem(change, made(take.Changes[change])) };

    private static Take Without(Take take, int note) => take with
    {
        Notes = take.Notes.SetItem(note, new HeardNote { Index = note, Pitch = take.Notes[note].Pitch, Found = false }),
        Changes = [.. take.Changes.Select(c => c.Index == note || c.Index == note - 1 ? new HeardChange { Index = c.Index, Found = false } : c)],
    };

    private static Take Glides(Take take, double seconds) => WithChange(take, 0, c => c with { AudibleGlide = new(seconds), GlideSemitones = 2, Dip = new(4), Gap = null });

    private static Take Passes(Take first, Take last) => last with
    {
        Attempts = [new Attempt { Start = new(0), End = new(9), Notes = [.. first.Notes], Changes = first.Changes }, new Attempt { Start = new(10), End = new(19), Notes = last.Notes, Changes = last.Changes }],
    };

    private static string Compared(Take first, Take last) => Diagnostician.Judge(Passes(first, last), Clean.Plan).Summary.Comparison[0];

    private static (DiagnosisOfTake Diagnosis, string Text) Told(Take take, Plan plan)
    {
        var diagnosis = Diagnostician.Judge(take, plan);
        return (diagnosis, Text(take, diagnosis, plan));
    }

    private static string Text(Take take, DiagnosisOfTake diagnosis, Plan plan)
    {
        using var text = new StringWriter();
        TakeText.Write(take, diagnosis, plan, text);
        return Regex.Replace(text.ToString(), @"\s+", " ");
    }

    private static string Page(Take take, DiagnosisOfTake diagnosis, Plan plan)
    {
        using var page = new StringWriter();
        ReportPage.Write(ReportText.Of(take, diagnosis, plan, new("Page")), null, page);
        return page.ToString();
    }
}
