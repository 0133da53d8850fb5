using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>An exercise as its kind writes it, before the planner has looked at it.</summary>
internal sealed record ExerciseDraft
{
    public required string Id { get; init; }

    public required string Kind { get; init; }

    public required string Title { get; init; }

    public required string Purpose { get; init; }

    public required ImmutableArray<string> Practice { get; init; }

    /// <summary>Without clefs and tempo: both are chosen when it is finished.</summary>
    public required Part Part { get; init; }

    /// <summary>As printed; empty for none.</summary>
    public string Key { get; init; } = "";

    /// <summary>Place of its key on the line of fifths, 0 for C; null where it has none.</summary>
    public int? Fifths { get; init; }

    public required ImmutableArray<double> Tempos { get; init; }

    public string Reason { get; init; } = "";

    /// <summary>Whether its signature is that of the music it was taken from, and so belongs on paper.</summary>
    public bool KeepsSignature { get; init; }

    private static readonly NoteValue Beat = NoteValue.Quarter;

    private static readonly ImmutableArray<string> Onwards = ["Go to the next tempo when ", "Raise the tempo only when "];

    // Slower than that nobody counts (proposed default).
    private const double SlowestHelp = 40;

    /// <summary>Plans it and measures it: settings become fixed on its notes, difficulty, level and minutes follow.</summary>
    /// <returns>An error where the pupil cannot play it: a note out of range or reach, an arm too fast at the last tempo, or an
    /// asked change that its settings do not give.</returns>
    public Outcome<Exercise> Finish(Pupil pupil)
    {
        var dressed = Unsigned(ClefChoice.Dress(WithTempo(Part), pupil.Clef, pupil.Instrument.UsualClef));
        var slow = PlanOf(dressed, pupil, Tempos[0]);
        var fast = PlanOf(dressed, pupil, Tempos[^1]);
        if (slow.Problems.Concat(fast.Problems).Where(p => p.Severity == Severity.Error).ToList() is { Count: > 0 } wrong) return Outcome<Exercise>.Failed(wrong);
        var asked = TooMuch(slow.Value, pupil).Concat(TooMuch(fast.Value, pupil)).DistinctBy(p => p.What).ToList();
        if (asked.Count > 0) return Outcome<Exercise>.Failed(asked);
        var part = Fixed(dressed, slow.Value);
        var plan = PlanOf(part, pupil, Tempos[0]).Value;
        var quickest = PlanOf(part, pupil, Tempos[^1]).Value;
        var difficulty = ExerciseDifficulty.Of(quickest);
        var level = ExerciseDifficulty.LevelOf(plan, difficulty);
        return Outcome<Exercise>.Of(new Exercise
        {
            Id = Id,
            Kind = Kind,
            Title = Title,
            Purpose = Purpose,
            Practice = Tempos.Length > 1 ? Practice : [.. Practice.Select(WithoutLadder)],
            Reason = Reason,
            Score = new Score { Title = Title, Parts = [part] },
            Plan = plan,
            Tempos = Tempos,
            Level = level,
            Demand = level > pupil.Level ? DemandWords.Of(quickest, level) : "",
            Difficulty = difficulty,
            Range = (plan.Notes.MinBy(n => n.Note.Pitch)!.Note.Pitch, plan.Notes.MaxBy(n => n.Note.Pitch)!.Note.Pitch),
            Key = Key,
            Rest = "Rest as long as you played before you go on.",
            Minutes = MinutesOf(part, Tempos),
        });
    }

    /// <summary>The plan at a tempo, before anything is fixed.</summary>
    /// <param name="pupil">Whose.</param>
    /// <param name="tempo">Quarter notes a minute.</param>
    public Outcome<Plan> PlanAt(Pupil pupil, double tempo) => PlanOf(Part, pupil, tempo);

    // With one tempo there is none to go on to.
    private static string WithoutLadder(string step) => Onwards.Where(o => step.StartsWith(o, StringComparison.Ordinal)).Select(o => $"It is learned when {step[o.Length..]}").FirstOrDefault() ?? step;

    private Part WithTempo(Part part) => part with
    {
        Bars = part.Bars.SetItem(0, part.Bars[0] with { Tempos = [new TempoText(Beats.Zero, Tempos[0], "", Beat)] }),
    };

    // What is in no key shows no signature: a clef that is written higher than it sounds would give it one.
    private Part Unsigned(Part part) => Key.Length > 0 || KeepsSignature || part.Bars[0].Clefs[0].Clef != Clef.TrebleBb
        ? part
        : part with { Bars = [.. part.Bars.Select(b => b with { Key = new KeySignature(0).Transposed(-Interval.MajorNinth) })] };

    private Outcome<Plan> PlanOf(Part part, Pupil pupil, double tempo)
    {
        var line = Unfolder.Play(part, Title, tempo);
        return line.Succeeded ? Planner.Plan(line.Value, pupil.Instrument, pupil.Settings) : Outcome<Plan>.Failed(line.Problems);
    }

    private static IEnumerable<Problem> TooMuch(Plan plan, Pupil pupil)
    {
        foreach (var note in plan.Notes)
        {
            if (note.Setting is null || !pupil.Plays(note.Note.Pitch))
                yield return new(note.Note.Pitch.ToDisplay(), $"lies outside what this pupil plays ({pupil.Lowest.ToDisplay()} to {pupil.Highest.ToDisplay()} on {pupil.Instrument.Id}, arm and valves as set).", "Choose another key, register or level.", Severity.Error);
        }

        foreach (var change in plan.Changes)
        {
            var (from, to) = (plan.Notes[change.FromNote].Note, plan.Notes[change.ToNote].Note);
            if (!change.Plausible)
                yield return new($"{from.Pitch.ToDisplay()} to {to.Pitch.ToDisplay()}", $"the arm would need {change.PeakSpeed:0.0} m/s at ♩ = {plan.Line.Tempo.Marks[0].QuartersPerMinute:0}.", plan.Line.Tempo.Marks[0].QuartersPerMinute <= SlowestHelp ? "No tempo makes this possible: choose another key, register or position." : "Choose a slower tempo.", Severity.Error);
            if (change.Intent == ChangeIntent.NaturalSlur && change.Kind is not (ChangeKind.NaturalSlur or ChangeKind.ValveSlur))
                yield return new($"{from.Pitch.ToDisplay()} to {to.Pitch.ToDisplay()}", "was to slur by itself and does not in the settings chosen.", "Choose another note or partial.", Severity.Error);
        }
    }

    // What the planner chose is written down, so that the exercise is the same for whoever reads it.
    private static Part Fixed(Part part, Plan plan)
    {
        var settings = plan.Notes.Where(n => n.Note.Pass == 1 && n.Setting is not null).GroupBy(n => n.Note.NoteIds[0])
            .ToDictionary(g => g.Key, g => SettingPattern.Of(g.First().Setting!).ToString());
        return part.WithSettings(settings);
    }

    // Once in every tempo, and as much rest as playing.
    private static double MinutesOf(Part part, ImmutableArray<double> tempos)
    {
        var quarters = part.Bars.Sum(b => b.Length.ToDouble());
        return Math.Max(1, Math.Round(2 * tempos.Sum(t => quarters / t)));
    }
}
