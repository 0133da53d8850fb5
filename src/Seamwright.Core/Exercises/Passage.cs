using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>A piece of music to be played in more than one way.</summary>
/// <param name="Name">For titles.</param>
/// <param name="Slug">For ids.</param>
/// <param name="Key">As printed; empty for none.</param>
/// <param name="Part">Nothing is prescribed in it.</param>
internal sealed record Passage(string Name, string Slug, string Key, Part Part)
{
    /// <summary>For titles, with the key where it has one.</summary>
    public string FullName => Key.Length == 0 ? Name : $"{Name} in {Key}";

    /// <summary>The tempo it goes at by itself, quarter notes a minute; null where it has none.</summary>
    public double? Tempo { get; init; }

    /// <summary>An invented tune in the keys and registers ordered, wherever it fits the pupil.</summary>
    public static IEnumerable<Passage> Of(Melody melody, ExerciseOrder order, Pupil pupil)
    {
        foreach (var key in Placing.Keys(order, pupil))
        {
            if (new KeyName(key.Tonic, KeyMode.Major).SignatureIn(KeyMode.Major) is not { } signature) continue;
            var places = Placing.All(pupil, key.Tonic, melody.From);
            foreach (var (tonic, register) in Placing.In(order.Register ?? Register.Middle, places, pupil, melody.From))
                yield return new Passage(melody.Name, $"{melody.Slug}-{Placing.Slug(tonic.Name)}-{register}", $"{tonic.Name.ToDisplay()} major", melody.Write(tonic, signature));
        }
    }

    /// <summary>The phrases of a tune, as they stand there.</summary>
    /// <returns>An error where it cannot be played.</returns>
    public static Outcome<PassageSet> Of(Tune tune, Pupil pupil)
    {
        var line = Unfolder.Play(tune.Part, tune.Title);
        if (!line.Succeeded) return Outcome<PassageSet>.Failed(line.Problems);
        var planned = Planner.Plan(line.Value, pupil.Instrument, pupil.Settings);
        if (!planned.Succeeded) return Outcome<PassageSet>.Failed(planned.Problems);
        var title = tune.Title.Length == 0 ? "The tune" : tune.Title;
        return Outcome<PassageSet>.Of(new PassageSet([.. Phrases.Of(line.Value).Where(p => p.LastNote > p.FirstNote).Select((p, i) =>
        {
            var cut = Prescribing.Excerpt(tune.Part, planned.Value, p.FirstNote, p.LastNote, _ => null);
            return new Passage($"{title}, phrase {i + 1}", $"phrase-{i + 1}", "", cut with { Bars = [.. cut.Bars.Select(Bare)] }) { Tempo = TempoAt(planned.Value, p.FirstNote) };
        })]));
    }

    /// <summary>How it is played in a way of choosing settings, at a tempo; null where it cannot be.</summary>
    public Plan? In(Pupil pupil, PlanSettings settings, double tempo)
    {
        var line = Unfolder.Play(Part, Name, tempo);
        return line.Succeeded && Planner.Plan(line.Value, pupil.Instrument, settings) is { Succeeded: true } plan && plan.Value.Notes.All(n => n.Setting is not null) ? plan.Value : null;
    }

    /// <summary>The tempo in force at a note of a plan, cut to what can be ordered: 20 to 240.</summary>
    public static double TempoAt(Plan plan, int note) => Math.Clamp(plan.Line.Tempo.Marks.Last(m => m.At <= plan.Notes[note].Note.Start).QuartersPerMinute, 20, 240);

    private static Bar Bare(Bar bar) => bar with { Events = [.. bar.Events.Select(e => e is Note n ? n with { Setting = "", Asked = null } : e)] };
}

/// <summary>Passages of one tune, in its order.</summary>
internal sealed record PassageSet(ImmutableArray<Passage> Passages);
