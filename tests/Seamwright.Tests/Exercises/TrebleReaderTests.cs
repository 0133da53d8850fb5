using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

/// <summary>What a reader of treble clef in B♭ is told: written a major ninth above the sound, as brass-band parts are (common practice).</summary>
public class TrebleReaderTests
{
    private static readonly Pupil Reader = Pupil.Of(Catalogue.Find("tenor-f")!, level: 4) with { Clef = Clef.TrebleBb };

    private static KeyName Key(string tonic) => new(Pitch.Parse(tonic + "3").Name, null);

    [Fact]
    public void Titles_keys_and_ranges_call_notes_as_they_are_written()
    {
        var scale = Made.Of(new() { Kind = "scales", Keys = [Key("Bb")] }, Reader)[0];
        Assert.Equal("C major scale", scale.Title);
        Assert.Equal("C major", scale.Key);
        Assert.Equal("C4 to C5", scale.RangeWords);
        Assert.Equal(Pitch.Parse("Bb2"), scale.Range.Low);
        Assert.Equal("One note: C5", Made.Of(new() { Kind = "one-note", Note = Pitch.Parse("Bb3") }, Reader)[0].Title);
        Assert.Equal("B♭", Pitch.Parse("Bb3").Name.ToDisplay());
    }

    [Fact]
    public void A_key_that_would_be_read_in_seven_sharps_is_read_in_flats()
    {
        var all = Made.Of(new() { Kind = "scales", Keys = TwelveKeys.Named(null, null) }, Reader);
        Assert.Equal(12, all.Count);
        Assert.Contains(all, e => e.Key == "D♭ major");
        Assert.DoesNotContain(all, e => e.Key == "C♯ major");
        Assert.All(all, e => Assert.InRange(e.Part.Bars[0].Key.Fifths + 2, -6, 6));
    }

    [Theory]
    [InlineData("chromatic")]
    [InlineData("whole-tone")]
    public void A_scale_without_a_key_has_no_signature_and_is_spelled_as_it_is_read(string scale)
    {
        var made = Made.Of(new() { Kind = "scales", Keys = [Key("Bb")], Scale = scale }, Reader)[0];
        Assert.All(made.Part.Bars, b => Assert.Equal(0, b.Key.Fifths + 2));
        Assert.All(made.Part.Notes, n => Assert.False(Spellings.IsAwkward((n.Pitch + Interval.MajorNinth).Name), (n.Pitch + Interval.MajorNinth).ToString()));

        // The same letters as the scale on C has for who reads it as it sounds.
        var plain = Scale.Find(scale)!;
        var read = made.Part.Notes.Select(n => (n.Pitch + Interval.MajorNinth).Name).Distinct().Take(plain.Count);
        Assert.Equal(Enumerable.Range(0, plain.Count).Select(i => plain.NoteAt(Pitch.Parse("C4"), i).Name), read);
    }

    [Fact]
    public void Keys_that_lie_nowhere_are_told_as_they_were_ordered()
    {
        var low = Reader with { Lowest = Pitch.Parse("Bb2"), Highest = Pitch.Parse("Bb3") };
        var made = ExerciseMaker.Make(new() { Kind = "scales", Keys = [Key("Bb"), Key("Ab")], Octaves = 1 }, low);
        Assert.Single(made.Value.Exercises);
        Assert.Contains(made.Problems, p => p.Where == "key A♭");
        Assert.DoesNotContain(made.Problems, p => p.Where.Contains("C major", StringComparison.Ordinal));
    }
}
