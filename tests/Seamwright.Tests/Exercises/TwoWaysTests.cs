using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Tests.Exercises;

/// <summary>The same music in two ways: both-ways and alternates.</summary>
public class TwoWaysTests
{
    [Theory]
    [InlineData(null)]
    [InlineData("evening-ferry")]
    public void The_first_way_slurs_by_itself_where_it_can_and_the_second_is_tongued_on_every_note(string? tune)
    {
        foreach (var exercise in Made.Of(new ExerciseOrder { Kind = "both-ways", Tune = tune is null ? null : Made.Melody(tune) }, Pupil.Of(Catalogue.Default)))
        {
            var (first, second) = Halves(exercise.Plan);
            Assert.Equal(first.Notes.Select(n => (n.Note.Pitch, n.Note.Length)), second.Notes.Select(n => (n.Note.Pitch, n.Note.Length)));
            Assert.All(second.Changes, c => Assert.True(c.Kind is ChangeKind.SoftTongue or ChangeKind.Breath or ChangeKind.Tongued));
            var natural = first.Changes.Count(IsNatural);
            Assert.True(natural > 0);
            var joined = first.Changes.Count(c => c.Kind is not (ChangeKind.Breath or ChangeKind.Tongued));
            Assert.Contains(natural == joined ? $"all {joined} changes" : natural == 1 ? $"one of {joined} changes" : $"{natural} of {joined} changes", exercise.Purpose);
        }
    }

    [Theory]
    [InlineData("tenor-straight", null)]
    [InlineData("bass-independent", null)]
    [InlineData("tenor-f", "over-the-hill")]
    public void Alternates_gain_something_and_say_what(string horn, string? tune)
    {
        foreach (var exercise in Made.Of(new ExerciseOrder { Kind = "alternates", Tune = tune is null ? null : Made.Melody(tune) }, Pupil.Of(Catalogue.Find(horn)!)))
        {
            var (plain, other) = Halves(exercise.Plan);
            Assert.Equal(plain.Notes.Select(n => n.Note.Pitch), other.Notes.Select(n => n.Note.Pitch));
            Assert.NotEqual(plain.Notes.Select(n => n.Setting), other.Notes.Select(n => n.Setting));
            Assert.True(other.Changes.Count(IsNatural) >= plain.Changes.Count(IsNatural));
            var (a, b) = (Arm(plain), Arm(other));
            if (Math.Abs(a - b) >= 1) Assert.Contains($"The arm goes {b:0} cm instead of {a:0}", exercise.Purpose);
            foreach (var (p, o) in plain.Changes.Zip(other.Changes).Where(c => c.First.Kind == ChangeKind.SoftTongue && IsNatural(c.Second)))
                Assert.Contains($"{plain.Notes[p.Index].Note.Pitch.ToDisplay()} to {plain.Notes[p.Index + 1].Note.Pitch.ToDisplay()}", exercise.Purpose);
        }
    }

    [Fact]
    public void A_count_is_kept()
    {
        foreach (var kind in (string[])["both-ways", "alternates"])
            Assert.Equal(2, Made.Of(new ExerciseOrder { Kind = kind, Count = 2 }, Pupil.Of(Catalogue.Default)).Count);
        var wrong = ExerciseMaker.Make(new ExerciseOrder { Kind = "alternates", Count = 25 }, Pupil.Of(Catalogue.Default));
        Assert.Contains("25 exercises cannot be asked for", Assert.Single(wrong.Problems).What);
    }

    // The change between the halves belongs to neither.
    private static (Half First, Half Second) Halves(Plan plan)
    {
        var n = plan.Notes.Length / 2;
        return (new Half([.. plan.Notes.Take(n)], [.. plan.Changes.Take(n - 1)]), new Half([.. plan.Notes.Skip(n)], [.. plan.Changes.Skip(n)]));
    }

    private static bool IsNatural(NoteChange c) => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur;

    private static double Arm(Half half) => half.Changes.Where(c => c.Kind != ChangeKind.Breath).Sum(c => Math.Abs(c.Travel!.Value.Value));

    private sealed record Half(List<PlannedNote> Notes, List<NoteChange> Changes);
}
