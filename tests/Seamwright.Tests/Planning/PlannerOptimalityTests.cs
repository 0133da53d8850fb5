using System.Collections.Immutable;
using CsCheck;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Planning;

/// <summary>The planner against every possible way to play a short line.</summary>
public class PlannerOptimalityTests
{
    public static TheoryData<string> Instruments => [.. Catalogue.Ids];

    [Theory]
    [MemberData(nameof(Instruments))]
    public void The_plan_costs_exactly_what_the_best_of_all_ways_costs(string id)
    {
        var instrument = Catalogue.Find(id)!;
        Lines(instrument).Sample(
            x =>
            {
                var plan = Planner.Plan(x.Line, instrument, x.Settings).Value;
                var best = EveryWay(x.Line, instrument).Min(way => PlanCost.Of(x.Line, way, instrument, x.Settings));
                Assert.Equal(best, plan.Cost, 1e-9);
                Assert.Equal(best, PlanCost.Of(x.Line, [.. plan.Notes.Select(n => n.Setting)], instrument, x.Settings), 1e-9);
            },
            iter: 60,
            print: x => string.Join(' ', x.Line.Notes.Select(n => n.Pitch)));
    }

    [Theory]
    [MemberData(nameof(Instruments))]
    public void Each_alternative_is_priced_at_the_best_way_that_uses_it(string id)
    {
        var instrument = Catalogue.Find(id)!;
        Lines(instrument).Sample(
            x =>
            {
                var plan = Planner.Plan(x.Line, instrument, x.Settings).Value;
                var ways = EveryWay(x.Line, instrument).Select(w => (Way: w, Cost: PlanCost.Of(x.Line, w, instrument, x.Settings))).ToList();
                foreach (var note in plan.Notes)
                {
                    foreach (var alternative in note.Alternatives)
                    {
                        var best = ways.Where(w => Equals(w.Way[note.Note.Index], alternative.Setting)).Min(w => w.Cost);
                        Assert.Equal(best - plan.Cost, alternative.ExtraCost, 1e-9);
                    }
                }
            },
            iter: 25);
    }

    [Fact]
    public void A_lock_gives_the_cost_its_alternative_was_priced_at()
    {
        var line = TestLines.Of("Bb3~ C4~ D4~ Eb4~ D4~ C4~ Bb3~ F4", 96);
        var plan = Planner.Plan(line, Catalogue.Default).Value;
        var alternative = plan.Notes[2].Alternatives[0];
        var locked = new PlanSettings { Locks = [new NoteLock(2, new SettingPattern(alternative.Setting.Side.Label, PositionLabel.Whole(alternative.Setting), alternative.Setting.Partial))] };
        var again = Planner.Plan(line, Catalogue.Default, locked).Value;
        Assert.Equal(alternative.Setting, again.Notes[2].Setting);
        Assert.Equal(plan.Cost + alternative.ExtraCost, again.Cost, 1e-9);
        Assert.True(again.Notes[2].Locked);
    }

    private static Gen<(Line Line, PlanSettings Settings)> Lines(Instrument instrument)
    {
        var (low, high) = instrument.Range();
        var note = Gen.Select(Gen.Int[low.Midi, high.Midi], Gen.OneOf("1", "1/2", "1/4", "3/2"), Gen.OneOf("", "~", "~", "~", "'", ".", "g"));
        return Gen.Select(
            note.Array[1, 4],
            Gen.OneOf(40.0, 90, 160),
            Gen.OneOf(CostWeights.NaturalFirst, CostWeights.QuietArm, CostWeights.PlainPositions),
            Gen.Enum<TonguePolicy>(),
            (notes, tempo, weights, policy) => (
                TestLines.Of(string.Join(' ', notes.Select(n => $"{Pitch.FromMidi(n.Item1)}:{n.Item2}{n.Item3}")), tempo),
                new PlanSettings { Weights = weights, Player = new Player { Policy = policy } }));
    }

    private static IEnumerable<ImmutableList<SlideSetting?>> EveryWay(Line line, Instrument instrument)
    {
        IEnumerable<ImmutableList<SlideSetting?>> ways = [[]];
        foreach (var note in line.Notes)
        {
            var settings = instrument.SettingsFor(note.Pitch);
            IEnumerable<SlideSetting?> options = settings.IsEmpty ? new SlideSetting?[1] : settings;
            ways = ways.SelectMany(w => options.Select(o => w.Add(o)));
        }

        return ways;
    }
}
