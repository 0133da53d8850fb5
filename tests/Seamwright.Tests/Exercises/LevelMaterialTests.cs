using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>What a level makes of one kind.</summary>
public class LevelMaterialTests
{
    private static readonly Instrument Horn = Catalogue.Default;

    [Theory]
    [InlineData("one-note")]
    [InlineData("three-passes")]
    [InlineData("two-notes")]
    [InlineData("slide-then-tongue")]
    [InlineData("both-ways")]
    [InlineData("scales")]
    [InlineData("intervals")]
    public void A_higher_level_is_asked_for_more_by_the_same_kind(string kind)
    {
        List<Exercise> Hardest(string horn) => [.. new[] { 1, 3, 6 }.Select(l => Made.Of(new ExerciseOrder { Kind = kind }, Pupil.Of(Catalogue.Find(horn)!, level: l))[^1])];
        foreach (var horn in new[] { "tenor-f", "tenor-straight" })
        {
            var three = Hardest(horn);
            Assert.True(three[0].Level <= 2, $"{three[0].Id}: {three[0].Level}");
            Assert.True(three[0].Level < three[2].Level && three[0].Level <= three[1].Level && three[1].Level <= three[2].Level, string.Join(", ", three.Select(e => $"{e.Id} {e.Level}")));
        }
    }

    [Theory]
    [InlineData("two-notes")]
    [InlineData("lip-slurs")]
    [InlineData("contrary")]
    [InlineData("valve-slurs")]
    public void The_first_year_stays_where_its_arm_is(string kind)
    {
        var notes = Made.Of(new ExerciseOrder { Kind = kind }, Pupil.Of(Horn, level: 1)).SelectMany(e => e.Plan.Notes).ToList();
        Assert.All(notes, n => Assert.InRange(n.Setting!.Position, 1, 5.3));
    }

    [Fact]
    public void With_one_tempo_there_is_none_to_go_on_to()
    {
        foreach (var kind in new[] { "scales", "two-notes", "arpeggios" })
        {
            var one = Made.Of(new ExerciseOrder { Kind = kind, Tempos = [60] }, Pupil.Of(Horn, level: 3))[0];
            Assert.DoesNotContain(one.Practice, p => p.Contains("next tempo", StringComparison.Ordinal) || p.StartsWith("Raise", StringComparison.Ordinal));
            Assert.Contains(one.Practice, p => p.StartsWith("It is learned when ", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Pairs_of_an_interval_keep_to_the_beat()
    {
        var thirds = Made.Of(new ExerciseOrder { Kind = "intervals", Interval = 3 }, Pupil.Of(Horn, level: 3))[0].Plan.Notes;
        Assert.All(thirds.Where((_, i) => i % 2 == 0), n => Assert.True((n.Note.Start.ToDouble() * 4) % 2 < 1e-9, $"{n.Note.Start}"));
    }

    [Fact]
    public void Seventh_position_and_a_valve_far_out_are_never_first_year()
    {
        var far = Made.Of(new ExerciseOrder { Kind = "lip-slurs", Positions = (7, 6) }, Pupil.Of(Horn, level: 1));
        Assert.All(far, e => Assert.True(e.Level >= 3 && e.Demand.Contains("7th position", StringComparison.Ordinal), $"{e.Level} {e.Demand}"));
        var valve = Made.Of(new ExerciseOrder { Kind = "lip-slurs", Valve = "F" }, Pupil.Of(Horn, level: 3));
        Assert.All(valve, e => Assert.True(e.Level >= 4, $"{e.Id} {e.Level}"));
    }

    [Fact]
    public void Sixteenths_on_one_note_are_not_for_the_first_year()
    {
        var first = Made.Of(new ExerciseOrder { Kind = "one-note" }, Pupil.Of(Horn, level: 1)).Single();
        Assert.Equal(1, first.Level);
        Assert.All(first.Part.Notes, n => Assert.True(n.Duration >= Beats.Quarter / 2));
        Assert.True(Made.Of(new ExerciseOrder { Kind = "one-note", Touches = [4], Tempos = [72] }, Pupil.Of(Horn, level: 1)).Single().Level >= 3);
    }

    [Theory]
    [InlineData("bass-independent", "melodic-minor", "F")]
    [InlineData("bass-independent", "melodic-minor", "E")]
    [InlineData("tenor-f", "locrian", "B")]
    public void A_note_of_a_scale_is_played_in_one_place(string horn, string scale, string key)
    {
        var made = Made.Of(new ExerciseOrder { Kind = "scales", Scale = scale, Register = Register.All, Octaves = 1, Keys = [new(PitchName.TryParse(key, out var k) ? k : default, null)] }, Pupil.Of(Catalogue.Find(horn)!, level: 5));
        Assert.All(made, e => Assert.All(e.Plan.Notes.GroupBy(n => n.Note.Pitch), g => Assert.True(g.Select(n => n.Setting!.Label).Distinct().Count() == 1, $"{e.Id}: {g.Key} {string.Join(' ', g.Select(n => n.Setting!.Label))}")));
    }

    [Theory]
    [InlineData("bass-independent", "B♭4")]
    [InlineData("contrabass-f", "F4")]
    [InlineData("tenor-f", "F5")]
    public void A_low_horn_is_not_asked_for_a_tenors_heights(string horn, string top) =>
        Assert.Equal(top, Pupil.Of(Catalogue.Find(horn)!).Highest.ToDisplay());

    [Fact]
    public void A_contrabass_makes_its_own_calibration_exercise() =>
        Assert.Equal([60.0], Made.Of(new ExerciseOrder { Kind = "horn-and-ear" }, Pupil.Of(Catalogue.Find("contrabass-f")!)).Single().Tempos);

    [Fact]
    public void Words_speak_of_what_is_on_the_page()
    {
        var one = Made.Of(new ExerciseOrder { Kind = "two-notes", Note = Pitch.Parse("F3"), Positions = (1, 3) }, Pupil.Of(Horn, level: 3)).Single();
        Assert.DoesNotContain("next pair", string.Join(" ", one.Practice));
        var figure = Made.Of(new ExerciseOrder { Kind = "pattern", Pattern = "1 2 3 5" }, Pupil.Of(Horn, level: 3)).Single();
        Assert.DoesNotContain("step", string.Join(" ", [figure.Purpose, .. figure.Practice]));
        var tongued = new PlanSettings { Player = new Player { Policy = TonguePolicy.EveryNote } };
        var scale = Made.Of(new ExerciseOrder { Kind = "scales" }, Pupil.Of(Horn, tongued, 3)).Single();
        Assert.DoesNotContain("natural slur", string.Join(" ", [scale.Purpose, .. scale.Practice]));
    }

    [Fact]
    public void Sixths_go_through_two_octaves() =>
        Assert.True(Made.Of(new ExerciseOrder { Kind = "intervals", Interval = 6, Keys = [new(PitchName.OnFifths(-2), null)] }, Pupil.Of(Horn, level: 5)).Single().Part.Notes.Count() > 20);
}
