using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Tests.Cli;
using Seamwright.Tests.Sound.PlayAlong;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Exercises;

/// <summary>The hardest changes of a tune as ladders.</summary>
public class FromTuneTests
{
    public static TheoryData<string> Melodies => [.. CommandLine.Melodies().Select(f => Path.GetFileNameWithoutExtension(f))];

    [Theory]
    [MemberData(nameof(Melodies))]
    public void The_hardest_changes_of_every_melody_become_ladders(string name)
    {
        var pupil = Pupil.Of(Catalogue.Find(name.EndsWith("bass", StringComparison.Ordinal) ? "bass-independent" : "tenor-f")!);
        var tune = Made.Melody(name);
        var plan = Planner.Plan(Unfolder.Play(tune.Part, "").Value, pupil.Instrument, pupil.Settings).Value;
        var hardest = plan.Hardest.Where(c => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur or ChangeKind.SoftTongue).DistinctBy(c => Pair(plan, c)).ToList();
        var made = Made.Of(new ExerciseOrder { Kind = "from-tune", Tune = tune }, pupil);
        var taken = hardest.Where(c => made.Any(e => Pair(e.Plan, e.Plan.Changes[0]) == Pair(plan, c))).ToList();
        Assert.Equal(Math.Min(3, hardest.Count(c => c.Difficulty >= 0.15)), made.Count);
        Assert.Equal(made.Count, taken.Count);
        Assert.Equal(hardest[0], taken[0]);

        // A harder one is passed over only where its phrase has a page already, and for one that is hardly easier.
        var phrases = Phrases.Of(plan.Line);
        int PhraseOf(NoteChange c) => phrases.Last(p => p.FirstNote <= c.FromNote).FirstNote;
        foreach (var over in hardest.Except(taken).Where(c => c.Difficulty > taken.Min(t => t.Difficulty)))
        {
            Assert.Contains(taken, t => PhraseOf(t) == PhraseOf(over));
            Assert.InRange(over.Difficulty, 0, taken.Min(t => t.Difficulty) + 0.1);
        }

        foreach (var exercise in made) IsALadder(exercise, plan);
    }

    private static void IsALadder(Exercise exercise, Plan tune)
    {
        var drill = Section(exercise, 0);
        Assert.Equal(2, drill.Select(n => n.Note.Pitch).Distinct().Count());
        Assert.Equal(drill[0].Note.Pitch, drill[2].Note.Pitch);
        Assert.Equal(drill[1].Note.Pitch, drill[drill.Count / 2].Note.Pitch);
        Assert.True(drill[(drill.Count / 2) - 1].Note.EndTime.Value <= 12.001, "longer than a breath");
        var sections = exercise.Part.Bars.Select(b => b.Section).Where(s => s.Length > 0).ToList();
        Assert.StartsWith("In its", sections[^1]);
        Assert.StartsWith("The two notes alone", sections[0]);
        var lengths = Enumerable.Range(0, sections.Count(s => !s.StartsWith("In its", StringComparison.Ordinal))).Select(i => Section(exercise, i)[0].Note.Length.ToDouble()).ToList();
        Assert.Equal(lengths.OrderDescending(), lengths);

        // The last section is a stretch of the tune: same pitches, lengths, slurs, settings and kinds.
        var last = Section(exercise, sections.Count - 1);
        var at = Enumerable.Range(0, tune.Notes.Length - last.Count + 1).Where(i => Enumerable.Range(0, last.Count).All(k => Same(tune.Notes[i + k], last[k]))).ToList();
        Assert.NotEmpty(at);
        var kinds = exercise.Plan.Changes.Skip(last[0].Note.Index).Select(c => c.Kind).ToList();
        Assert.Contains(at, i => tune.Changes.Skip(i).Take(kinds.Count).Select(c => c.Kind).SequenceEqual(kinds));
        Assert.All(last.SkipLast(1), n => Assert.Equal(tune.Notes[at[0] + n.Note.Index - last[0].Note.Index].Note.SlurredToNext, n.Note.SlurredToNext));
        Assert.True(exercise.Tempos[^1] <= tune.Line.Tempo.Marks.Max(m => m.QuartersPerMinute));
    }

    [Fact]
    public void Keys_and_meters_are_the_tunes()
    {
        var tune = Made.Melody("harbour-lamps");
        var exercise = Made.Of(new ExerciseOrder { Kind = "from-tune", Tune = tune, Count = 1 }, Pupil.Of(Catalogue.Default)).Single();
        Assert.All(exercise.Part.Bars, b => Assert.Equal(tune.Part.Bars[0].Key, b.Key));
        Assert.Equal(tune.Part.Bars[0].Meter, exercise.Part.Bars[^1].Meter);
    }

    [Fact]
    public void Neighbours_outside_the_phrase_are_silent_and_repeats_are_played_out()
    {
        // The repeat makes D to F♯ the second time follow the first ending's notes.
        var part = Parts.Written("2/4", "<measure number=\"1\">START<barline location=\"left\"><repeat direction=\"forward\"/></barline>" + Slurred("C3", "E3") + "</measure>", "<measure number=\"2\">" + Slurred("A2", "G2") + "<barline location=\"right\"><repeat direction=\"backward\"/></barline></measure>");
        var made = Made.Of(new ExerciseOrder { Kind = "from-tune", Tune = new Tune("", part) }, Pupil.Of(Catalogue.Find("tenor-straight")!));
        Assert.All(made, e => Assert.All(e.Part.Bars, b => Assert.Equal(b.Meter.BarLength, b.Events.Aggregate(Beats.Zero, (sum, x) => sum + x.Duration))));
        Assert.Equal(2, made.Count);
    }

    [Fact]
    public void A_tune_without_hard_changes_is_refused_with_its_hardest()
    {
        var part = Parts.Written("4/4", Slurred("Bb2", "F3") + R(24), Slurred("F3", "Bb3") + R(24));
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "from-tune", Tune = new Tune("Still water", part) }, Pupil.Of(Catalogue.Default));
        var problem = Assert.Single(made.Problems);
        Assert.Equal("Still water", problem.Where);
        Assert.Contains("no joined change is hard: the hardest (B♭2 to F3) has 0.05 of 1", problem.What);
    }

    [Fact]
    public void A_tune_of_one_note_and_no_tune_at_all_are_refused()
    {
        var alone = ExerciseMaker.Make(new ExerciseOrder { Kind = "from-tune", Tune = new Tune("", Parts.Written("4/4", N("C3", 48))) }, Pupil.Of(Catalogue.Default));
        Assert.Contains("no note is joined to the next one", Assert.Single(alone.Problems).What);
        var none = ExerciseMaker.Make(new ExerciseOrder { Kind = "from-tune" }, Pupil.Of(Catalogue.Default));
        Assert.Contains("is missing", Assert.Single(none.Problems).What);
    }

    [Fact]
    public void Phrases_out_of_a_pupils_range_give_way_and_are_told()
    {
        var beginner = Pupil.Of(Catalogue.Default, level: 1);
        var made = ExerciseMaker.Make(new ExerciseOrder { Kind = "from-tune", Tune = Made.Melody("harbour-lamps"), Count = 24 }, beginner);
        if (made.Succeeded) Assert.All(made.Value.Exercises.SelectMany(e => e.Plan.Notes), n => Assert.True(beginner.Plays(n.Note.Pitch)));
        Assert.Contains(made.Problems, p => p.What.Contains("lies outside what this pupil plays", StringComparison.Ordinal));
    }

    private static string Slurred(string a, string b) =>
        N(a, 12).Replace("</note>", "<notations><slur type=\"start\"/></notations></note>") + N(b, 12).Replace("</note>", "<notations><slur type=\"stop\"/></notations></note>");

    private static bool Same(PlannedNote a, PlannedNote b) => a.Note.Pitch == b.Note.Pitch && a.Note.Length == b.Note.Length && Equals(a.Setting, b.Setting);

    private static (int, int) Pair(Plan plan, NoteChange c)
    {
        var (a, b) = (plan.Notes[c.FromNote].Note.Pitch.Midi, plan.Notes[c.ToNote].Note.Pitch.Midi);
        return (Math.Min(a, b), Math.Max(a, b));
    }

    private static List<PlannedNote> Section(Exercise e, int index)
    {
        var starts = e.Part.Bars.Where(b => b.Section.Length > 0).Select(b => b.Start).ToList();
        return [.. e.Plan.Notes.Where(n => n.Note.Start >= starts[index] && (index + 1 == starts.Count || n.Note.Start < starts[index + 1]))];
    }
}
