using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Planning;

/// <summary>Chooses a slide setting for every note of a line and names the kind of every change.</summary>
public static class Planner
{
    /// <summary>The plan whose stated cost is least; exactly, not by rule of thumb.</summary>
    /// <param name="line">What is played; may be empty.</param>
    /// <param name="instrument">On what.</param>
    /// <param name="settings">By whom and how; default a grown player, soft tongue where it would smear.</param>
    /// <returns>A plan. Notes nobody can reach are cases of the plan with a problem each; settings out of range or locks that
    /// fit no setting are errors, all told at once.</returns>
    public static Outcome<Plan> Plan(Line line, Instrument instrument, PlanSettings? settings = null)
    {
        var wish = settings ?? new PlanSettings();
        List<Problem> problems = [.. wish.Player.Validate(), .. wish.Weights.Validate()];
        if (problems.Count > 0) return Outcome<Plan>.Failed(problems);
        var candidates = Candidates.For(line, instrument, wish, problems);
        if (problems.Any(p => p.Severity == Severity.Error)) return Outcome<Plan>.Failed(problems);
        problems.AddRange(Remarks(line, wish.Player));
        var joints = Joint.Of(line, wish.Player);
        var (notes, cost) = Choose(line, candidates, joints, new CostModel(instrument, wish.Player, wish.Weights), wish);
        var changes = ChangesOf(instrument, notes, joints, wish.Player);
        problems.AddRange(Doubts(notes, changes, wish.Player));
        var plan = new Plan
        {
            Line = line,
            Instrument = instrument,
            Player = wish.Player,
            Notes = notes,
            Changes = changes,
            Cost = cost,
            Problems = [.. problems],
        };
        return Outcome<Plan>.Of(plan, plan.Problems);
    }

    private static (ImmutableArray<PlannedNote> Notes, double Cost) Choose(
        Line line, ImmutableArray<ImmutableArray<SlideSetting>> candidates, ImmutableArray<Joint> joints, CostModel model, PlanSettings wish)
    {
        var locked = wish.Locks.Select(l => l.NoteIndex).ToHashSet();
        var notes = ImmutableArray.CreateBuilder<PlannedNote>(line.Notes.Length);
        var cost = 0.0;
        for (var first = 0; first < candidates.Length;)
        {
            if (candidates[first].IsEmpty)
            {
                notes.Add(new PlannedNote { Note = line.Notes[first], Setting = null, Alternatives = [] });
                first++;
                continue;
            }

            var last = first;
            while (last + 1 < candidates.Length && !candidates[last + 1].IsEmpty) last++;
            cost += ChooseRun(first, last - first + 1);
            first = last + 1;
        }

        return (notes.MoveToImmutable(), cost);

        double ChooseRun(int first, int count)
        {
            var lattice = new Lattice(
                [.. candidates.Skip(first).Take(count)],
                (i, s) => model.OfNote(line.Notes[first + i].Pitch, candidates[first + i][s]),
                (i, a, b) => StepBetween(first + i, candidates[first + i][a], candidates[first + i + 1][b]),
                model.OfReversal);
            var best = lattice.Best();
            for (var i = 0; i < count; i++)
            {
                notes.Add(new PlannedNote
                {
                    Note = line.Notes[first + i],
                    Setting = candidates[first + i][best[i]],
                    Alternatives = Alternatives(lattice, i, best[i], candidates[first + i]),
                    Locked = locked.Contains(first + i),
                });
            }

            return lattice.BestCost;
        }

        Lattice.Step StepBetween(int i, SlideSetting a, SlideSetting b) => new(
            model.OfChange(line.Notes[i].Pitch, a, line.Notes[i + 1].Pitch, b, joints[i]),
            CostModel.MotionOf(a, b, joints[i]));
    }

    private static ImmutableArray<Alternative> Alternatives(Lattice lattice, int note, int chosen, ImmutableArray<SlideSetting> settings)
    {
        var found = new List<Alternative>(settings.Length);
        for (var s = 0; s < settings.Length; s++)
        {
            if (s != chosen) found.Add(new Alternative(settings[s], Math.Max(0, lattice.BestCostThrough(note, s) - lattice.BestCost)));
        }

        found.Sort((a, b) => a.ExtraCost.CompareTo(b.ExtraCost));
        return [.. found];
    }

    private static ImmutableArray<NoteChange> ChangesOf(Instrument instrument, ImmutableArray<PlannedNote> notes, ImmutableArray<Joint> joints, Player player)
    {
        var changes = ImmutableArray.CreateBuilder<NoteChange>(joints.Length);
        for (var i = 0; i < joints.Length; i++)
            changes.Add(Changes.Between(instrument, notes[i].Note, notes[i].Setting, notes[i + 1].Note, notes[i + 1].Setting, joints[i], player));
        return changes.MoveToImmutable();
    }

    private static IEnumerable<Problem> Remarks(Line line, Player player)
    {
        if (player.Legato == LegatoScope.AsWrittenOrAll && line.Notes.Length > 1 && Joint.JoinsEverything(line, player.Legato))
            yield return new Problem("the part", "has no slurs, so every pair of notes without a rest or breath is planned as legato.", "", Severity.Note);
    }

    private static IEnumerable<Problem> Doubts(ImmutableArray<PlannedNote> notes, ImmutableArray<NoteChange> changes, Player player)
    {
        foreach (var change in changes)
        {
            var note = notes[change.ToNote].Note;
            var where = $"bar {note.Bar}, beat {note.Beat.ToDouble():0.##}";
            if (!change.Plausible)
                yield return new Problem(where, $"the arm would need {change.PeakSpeed:0.00} m/s ({Math.Abs(change.Travel!.Value.Value):0} cm in {change.MoveTime.Milliseconds:0} ms), more than {player.FastestArm:0.00} m/s.", "Play it slower, or lock another position.");
            if (notes[change.FromNote].Note.GlissandoToNext && change.Kind is not (ChangeKind.Glissando or ChangeKind.Breath) && change.Intent is null)
                yield return new Problem(where, "this glissando cannot be played on one partial; a slide reaches a tritone at most.", "It is planned as an ordinary change.");
        }
    }
}
