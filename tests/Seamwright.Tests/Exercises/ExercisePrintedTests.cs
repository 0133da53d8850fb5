using System.Collections.Immutable;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving.Notation;

namespace Seamwright.Tests.Exercises;

/// <summary>What an exercise says to its reader besides notes: signature, title, dynamics.</summary>
public class ExercisePrintedTests
{
    private static readonly Pupil Band = Pupil.Of(Catalogue.Default, level: 4) with { Clef = Clef.TrebleBb };

    private static int PrintedFifths(Exercise e) => new StaffView(e.Part, null).KeyOf(e.Part.Bars[0]).Fifths;

    [Theory]
    [InlineData("one-note")]
    [InlineData("two-notes")]
    [InlineData("slide-then-tongue")]
    [InlineData("lip-slurs")]
    [InlineData("contrary")]
    [InlineData("valve-slurs")]
    [InlineData("valve-or-arm")]
    [InlineData("horn-and-ear")]
    public void What_is_in_no_key_has_no_signature_in_any_clef(string kind)
    {
        Assert.All(Made.Of(new() { Kind = kind }, Band), e => Assert.Equal(0, PrintedFifths(e)));
        Assert.All(Made.Of(new() { Kind = kind }, Band with { Clef = null }), e => Assert.Equal(0, PrintedFifths(e)));
    }

    [Fact]
    public void What_is_in_a_key_keeps_it()
    {
        var c = new KeyName(new PitchName(Step.C, 0), null);
        Assert.All(Made.Of(new() { Kind = "scales", Keys = [c] }, Band), e => Assert.Equal(2, PrintedFifths(e)));
        var tune = Made.Melody("over-the-hill");
        var concert = tune.Part.Bars[0].Key.Fifths;
        Assert.All(Made.Of(new() { Kind = "both-ways", Tune = tune, Count = 1 }, Band), e => Assert.Equal(concert + 2, PrintedFifths(e)));
        var inC = new Tune("In C", new Seamwright.Core.Planning.KeyWish(c, Interval.Unison, 0).Move(tune.Part).Value);
        Assert.All(Made.Of(new() { Kind = "from-tune", Tune = inC, Count = 1 }, Band), e => Assert.Equal(2, PrintedFifths(e)));
    }

    [Theory]
    [InlineData("bass-independent")]
    [InlineData("tenor-f")]
    public void No_two_exercises_of_a_horn_are_called_the_same(string horn)
    {
        var pupil = Pupil.Of(Catalogue.Find(horn)!, level: 6);
        List<Exercise> all = [];
        foreach (var side in pupil.Instrument.Sides.Select(s => s.Valves.IsEmpty ? null : s.Label))
        {
            foreach (var kind in new[] { "lip-slurs", "contrary", "valve-slurs", "valve-or-arm" })
                all.AddRange(Some(new() { Kind = kind, Valve = side, Register = kind == "valve-or-arm" ? null : Register.Low }, pupil).Concat(Some(new() { Kind = kind, Valve = side }, pupil)));
        }

        ImmutableArray<KeyName> keys = [new(new PitchName(Step.B, -1), null), new(new PitchName(Step.F, 0), null)];
        foreach (var kind in new[] { "both-ways", "alternates" }) all.AddRange(Some(new() { Kind = kind, Keys = keys }, pupil));
        all = [.. all.DistinctBy(e => e.Id)];
        Assert.True(all.Count > 15);
        Assert.Empty(all.GroupBy(e => e.Title).Where(g => g.Count() > 1).Select(g => $"{g.Key}: {string.Join(", ", g.Select(e => e.Id))}"));
    }

    private static ImmutableArray<Exercise> Some(ExerciseOrder order, Pupil pupil) => ExerciseMaker.Make(order, pupil) is { Succeeded: true } made ? made.Value.Exercises : [];

    [Fact]
    public void Bars_of_a_tune_hold_their_phrase_and_its_signs_alone()
    {
        var seen = 0;
        foreach (var name in new[] { "over-the-hill", "low-tide", "evening-ferry" })
        {
            var pupil = Pupil.Of(Catalogue.Find("bass-dependent-eb")!, level: 6);
            foreach (var part in Made.Of(new() { Kind = "from-tune", Tune = Made.Melody(name) }, pupil).Select(e => e.Part))
            {
                foreach (var bar in part.Bars.Where(b => b.Section.Length > 0 || b.Directions.Length > 0))
                    Assert.All(bar.Directions, d => Assert.Contains(bar.Events.OfType<Note>(), n => n.Offset <= d.Offset && d.Offset < n.Offset + n.Duration));
                var sections = SectionsOf(part);
                if (sections.Find(s => s.Heading.StartsWith("In its bar", StringComparison.Ordinal)).Pitches is not { } bars || sections.Find(s => s.Heading == "In its phrase").Pitches is not { } phrase) continue;
                seen++;
                Assert.Contains(string.Join(' ', bars), string.Join(' ', phrase));
            }
        }

        Assert.True(seen > 2);
    }

    private static List<(string Heading, List<Pitch> Pitches)> SectionsOf(Part part)
    {
        var sections = new List<(string Heading, List<Pitch> Pitches)>();
        foreach (var bar in part.Bars)
        {
            if (bar.Section.Length > 0 || sections.Count == 0) sections.Add((bar.Section, []));
            sections[^1].Pitches.AddRange(bar.Events.OfType<Note>().Select(n => n.Pitch));
        }

        return sections;
    }
}
