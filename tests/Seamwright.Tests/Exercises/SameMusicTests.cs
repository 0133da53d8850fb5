using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;

namespace Seamwright.Tests.Exercises;

public class SameMusicTests
{
    private static readonly Pupil Student = Pupil.Of(Catalogue.Find("bass-independent")!, level: 5);

    [Fact]
    public void What_is_ordered_in_two_ways_is_found_once_more()
    {
        var named = Made.Of(new() { Kind = "valve-or-arm", Valve = "Gb" }, Student);
        var all = Made.Of(new() { Kind = "valve-or-arm" }, Student);
        var again = SameMusic.In([.. named, .. all]).ToList();
        Assert.NotEmpty(again);
        Assert.All(again, a => Assert.Equal(Sounds(At(a.First)), Sounds(At(a.Again))));
        Assert.All(again, a => Assert.True(a.First < a.Again));

        Exercise At(int i) => i < named.Count ? named[i] : all[i - named.Count];
        static IEnumerable<(object, object)> Sounds(Exercise e) => e.Plan.Notes.Select(n => ((object)n.Note.Pitch, (object)n.Setting!));
    }

    [Fact]
    public void The_same_notes_in_other_places_or_tempos_are_not_the_same_music()
    {
        var one = Made.Of(new() { Kind = "two-notes", Positions = (1, 2), Tempos = [60] }, Student)[0];
        var faster = Made.Of(new() { Kind = "two-notes", Positions = (1, 2), Tempos = [60, 72] }, Student)[0];
        var ways = Made.Of(new() { Kind = "alternates" }, Student);
        Assert.Empty(SameMusic.In([one, faster, .. ways]));
        Assert.Equal([(1, 0)], SameMusic.In([one, one]));
    }
}
