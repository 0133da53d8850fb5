using Seamwright.Core.Diagnosis;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;
using Seamwright.Tests.Cli;
using Seamwright.Tests.Exercises;
using Seamwright.Tests.Planning;

namespace Seamwright.Tests.Diagnoses;

/// <summary>What a take's faults become.</summary>
public class NextExercisesTests
{
    private static readonly Pupil Grown = Pupil.Of(Catalogue.Find("tenor-straight")!, level: 4);

    private static readonly Plan Tune = Planner.Plan(
        TestLines.Of("Bb3~ F#3~ Bb3~ G3~ Bb3~ A3~ G3~ F#3' F3~ Bb3~ D4~ Bb3~ F3'", 60), Grown.Instrument, new PlanSettings { Weights = CostWeights.Presets["plain-positions"] }).Value;

    [Theory]
    [InlineData(Fault.Smeared, FaultKind.Smear, "two-notes")]
    [InlineData(Fault.LateTongue, FaultKind.Timing, "slide-then-tongue")]
    [InlineData(Fault.EarlyTongue, FaultKind.Timing, "slide-then-tongue")]
    [InlineData(Fault.StoppedAir, FaultKind.Air, "three-passes")]
    [InlineData(Fault.OutOfTune, FaultKind.Tuning, "one-note")]
    public void A_fault_chooses_its_exercise_and_says_why(Fault fault, FaultKind kind, string exercise)
    {
        var struck = Tune.Changes.Where(c => FaultAmounts.Applies(fault, c)).Take(fault == Fault.OutOfTune ? 2 : 99).ToList();
        var next = NextExercises.Of(Heard(new FaultOrder(fault, null, [.. struck.Select(c => c.Index)])), Tune, Grown).Value;
        var first = next.Chosen[0];
        Assert.Equal((kind, exercise), (first.Fault!.Kind, first.Exercise.Kind));
        Assert.Contains("bar 1", first.Exercise.Reason);
        Assert.Matches(@"\d+ (ms|cents)", first.Exercise.Reason);
        Assert.Equal(next.Chosen.Length, next.Chosen.Select(c => c.Fault!.Kind).Distinct().Count());
    }

    [Fact]
    public void Air_that_stops_at_natural_slurs_only_becomes_lip_slurs()
    {
        var struck = Tune.Changes.Where(c => c.Kind == ChangeKind.NaturalSlur && FaultAmounts.Applies(Fault.StoppedAir, c)).Select(c => c.Index).ToList();
        Assert.NotEmpty(struck);
        var first = NextExercises.Of(Heard(new FaultOrder(Fault.StoppedAir, null, [.. struck])), Tune, Grown).Value.Chosen[0];
        Assert.Equal((FaultKind.Air, "lip-slurs"), (first.Fault!.Kind, first.Exercise.Kind));
        Assert.EndsWith("leave the tongue out.", first.Exercise.Reason);
    }

    [Fact]
    public void A_smear_becomes_those_very_notes()
    {
        var longest = Tune.Changes.Where(c => FaultAmounts.Applies(Fault.Smeared, c)).MaxBy(c => Math.Abs(c.Travel!.Value.Value))!;
        var next = NextExercises.Of(Heard(new FaultOrder(Fault.Smeared, 250, [longest.Index])), Tune, Grown).Value;
        var chosen = Assert.Single(next.Chosen);
        int[] pair = [Tune.Notes[longest.FromNote].Note.Pitch.Midi, Tune.Notes[longest.ToNote].Note.Pitch.Midi];
        Assert.Equal(pair.Order(), chosen.Exercise.Plan.Notes.Select(n => n.Note.Pitch.Midi).Distinct().Order());
        Assert.Equal("One thing stood out in this take; this exercise is for it.", next.Sentence);
    }

    [Fact]
    public void Of_many_faults_the_three_heaviest_are_taken_one_exercise_each()
    {
        Fault[] faults = [Fault.StoppedAir, Fault.Smeared, Fault.LateTongue, Fault.HardTongue];
        var sliding = Tune.Changes.Where(c => FaultAmounts.Applies(Fault.Smeared, c)).Select(c => c.Index).ToList();
        var diagnosis = Heard(Playing.WithFaults(Tune, sliding.Take(8).Select((c, i) => (c, i)).ToDictionary(x => x.c, x => faults[x.i % 4])));
        var groups = FaultGroup.Of(diagnosis);
        Assert.Equal(groups.Select(g => g.Weight).OrderDescending(), groups.Select(g => g.Weight));
        var next = NextExercises.Of(diagnosis, Tune, Grown).Value;
        Assert.Equal(3, next.Chosen.Length);
        Assert.Equal(3, next.Chosen.Select(c => c.Exercise.Id).Distinct().Count());
        Assert.Equal(FaultKind.Air, next.Chosen[0].Fault!.Kind);
    }

    [Fact]
    public void A_clean_take_leads_on_and_one_that_says_nothing_chooses_nothing()
    {
        var clean = NextExercises.Of(Heard(FaultOrder.Clean), Tune, Grown, Pupil.Of(Grown.Instrument, level: 5)).Value;
        Assert.Contains("go on to the next level", clean.Sentence);
        Assert.Null(Assert.Single(clean.Chosen).Fault);
        var silent = Diagnostician.Judge(Listener.Listen(new Recording(new float[48_000], new(48_000)), Tune), Tune);
        var none = NextExercises.Of(silent, Tune, Grown).Value;
        Assert.Empty(none.Chosen);
        Assert.Contains("record it again", none.Sentence);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(5)]
    public void After_a_clean_take_of_an_exercise_comes_a_harder_one_and_the_sentence_is_true(int level)
    {
        var pupil = Pupil.Of(Catalogue.Default, level: level);
        var played = Made.Of(new ExerciseOrder { Kind = "three-passes", Keys = level == 1 ? null : [new(Catalogue.Default.Pedal.Name, null)] }, pupil).Single();
        var next = LeadOn.From(played.Plan, pupil, Pupil.Of(pupil.Instrument, level: level + 1)).Value;
        var exercise = Assert.Single(next.Chosen).Exercise;
        Assert.NotEqual(played.Plan.Notes.Select(n => n.Note.Pitch), exercise.Plan.Notes.Select(n => n.Note.Pitch));
        Assert.True(exercise.Level > played.Level, $"{exercise.Id} {exercise.Level}, {played.Level}");
        Assert.Contains($"this is level {exercise.Level}", exercise.Reason);
    }

    [Fact]
    public void Two_faults_of_one_change_of_the_tune_become_one_ladder()
    {
        var tune = Made.Melody("low-tide");
        var pupil = Pupil.Of(Catalogue.Default, level: 4);
        var plan = Planner.Plan(Core.Scores.Unfolder.Play(tune.Part, "").Value, pupil.Instrument, pupil.Settings).Value;
        (int Low, int High) Pair(NoteChange c) => (Math.Min(plan.Notes[c.FromNote].Note.Pitch.Midi, plan.Notes[c.ToNote].Note.Pitch.Midi), Math.Max(plan.Notes[c.FromNote].Note.Pitch.Midi, plan.Notes[c.ToNote].Note.Pitch.Midi));
        var struck = plan.Changes.Where(c => FaultAmounts.Applies(Fault.Smeared, c)).GroupBy(Pair).First(g => g.Count() > 1).ToList();
        var faults = new Dictionary<int, Fault> { [struck[0].Index] = Fault.LateTongue, [struck[1].Index] = Fault.StoppedAir };
        var take = Voice.Render(plan, Playing.WithFaults(plan, faults));
        var diagnosis = Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), plan), plan);
        var next = NextExercises.Of(diagnosis, plan, pupil, tune: tune).Value;
        var ladder = Assert.Single(next.Chosen, c => c.Exercise.Kind == "from-tune");
        Assert.Equal(Pair(struck[0]), (ladder.Exercise.Plan.Notes.Take(2).Min(n => n.Note.Pitch.Midi), ladder.Exercise.Plan.Notes.Take(2).Max(n => n.Note.Pitch.Midi)));
        Assert.Contains(FaultKind.Timing, ladder.Also.Select(f => f.Kind).Append(ladder.Fault!.Kind));
        Assert.Contains(FaultKind.Air, ladder.Also.Select(f => f.Kind).Append(ladder.Fault!.Kind));
        Assert.Contains("Tongue and slide were not together once", ladder.Exercise.Reason);
        Assert.Contains("The air did not go on evenly once", ladder.Exercise.Reason);
        Assert.Contains("the one to mend", ladder.Exercise.Purpose);
        Assert.DoesNotContain(NextExercises.Of(diagnosis, plan, pupil).Value.Chosen, c => c.Exercise.Kind == "from-tune");
    }

    [Fact]
    public void A_fault_all_over_the_tune_is_a_habit_and_no_ladder()
    {
        var tune = Made.Melody("low-tide");
        var next = NextExercises.Of(Heard(new FaultOrder(Fault.LateTongue, null, [])), Tune, Grown, tune: tune).Value;
        Assert.Equal("slide-then-tongue", next.Chosen[0].Exercise.Kind);
    }

    [Fact]
    public void From_an_exercise_file_through_sound_and_hear_to_the_next()
    {
        var folder = Directory.CreateTempSubdirectory().FullName;
        string In(string name) => Path.Combine(folder, name);
        var exercise = ExerciseMaker.Make(new ExerciseOrder { Kind = "slide-then-tongue" }, Pupil.Of(Catalogue.Default, level: 3)).Value.Exercises[0];
        using (var file = File.Create(In("exercise.musicxml"))) MusicXmlWriter.Write(exercise.Score, null, file);
        Run("sound", In("exercise.musicxml"), "--turns", "example", "--click", "none", "--count-in", "0", "-o", In("clean.wav"));
        var clean = Run("hear", In("clean.wav"), "--part", In("exercise.musicxml"));
        Assert.Contains("All 8 slow slides were as asked.", clean);
        Assert.Contains("All 8 soft tongues were as asked.", clean);
        Run("sound", In("exercise.musicxml"), "--turns", "example", "--click", "none", "--count-in", "0", "--as", "hurried-slide", "-o", In("hurried.wav"));
        var hurried = Run("hear", In("hurried.wav"), "--part", In("exercise.musicxml"));
        Assert.Contains("8 of 8 slow slides were too short", hurried);
        Assert.Contains("All 8 fast slides were as asked.", hurried);
        var next = Run("next", In("hurried.wav"), "--part", In("exercise.musicxml"), "-o", In("next.pdf"));
        Assert.Contains("A slow slide was too short 8 times", next.ReplaceLineEndings(" ").Replace("   ", ""));
        using (var pdf = UglyToad.PdfPig.PdfDocument.Open(In("next.pdf")))
        {
            var words = string.Join(' ', pdf.GetPage(1).GetWords().Select(w => w.Text));
            Assert.Contains("A slow slide was too short 8 times", words);
            Assert.Contains(exercise.Title.Split(':')[0], words);
        }

        Directory.Delete(folder, true);
    }

    private static string Run(params string[] args)
    {
        var (code, output, error) = CommandLine.Run(args);
        Assert.True(code == 0, $"{string.Join(" ", args)}: {error}");
        return output;
    }

    private static Diagnosis Heard(FaultOrder order) => Heard(order.On(Tune));

    private static Diagnosis Heard(Performance performance)
    {
        var take = Voice.Render(Tune, performance);
        return Diagnostician.Judge(Listener.Listen(new Recording(take.Samples, take.Rate), Tune), Tune);
    }
}
