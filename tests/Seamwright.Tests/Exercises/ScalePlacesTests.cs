using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Tests.Exercises;

/// <summary>A figure is played where the scale is (common practice).</summary>
public class ScalePlacesTests
{
    public static TheoryData<string> Horns => [.. Catalogue.Ids];

    [Theory]
    [MemberData(nameof(Horns))]
    public void A_figure_has_the_places_of_its_scale(string horn)
    {
        var pupil = Pupil.Of(Catalogue.Find(horn)!, level: 5);
        var key = new KeyName(pupil.Instrument.Pedal.Name, null);
        var figure = Made.Of(new() { Kind = "pattern", Keys = [key], Pattern = "1 2 3 4 5 4 3 2 up 4 down" }, pupil)[0];
        var notes = figure.Plan.Notes.GroupBy(n => n.Note.Pitch).ToDictionary(g => g.Key, g => g.Select(n => n.Setting).Distinct().ToList());
        Assert.All(notes.Values, places => Assert.Single(places));

        var scale = Made.Of(new() { Kind = "scales", Keys = [key] }, pupil)[0].Plan.Notes.DistinctBy(n => n.Note.Pitch).Where(n => notes.ContainsKey(n.Note.Pitch)).ToList();
        Assert.InRange(scale.Count, 6, 8);
        Assert.All(scale, n => Assert.Equal(n.Setting, notes[n.Note.Pitch][0]));
    }
}
