using System.Collections.Immutable;
using System.Diagnostics;
using Seamwright.Core.Diagnosis;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Parts;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Lets the listener hear one take and holds what it says against the truth.</summary>
internal static class TakeJudge
{
    private static readonly (double Nudge, double Stretch)[] Hairs = [(1, 1.08), (-1, 1 / 1.08), (1, 1 / 1.08), (-1, 1.08)];

    /// <summary>One take of a folder.</summary>
    /// <param name="folder">Made by <c>make</c>.</param>
    /// <param name="truth">Its truth.</param>
    public static TakeScore Judge(string folder, TruthFile truth)
    {
        var recording = TakeWriter.ReadWav(Path.Combine(folder, truth.Name + ".wav"));
        var plan = PartPlan.Read(Path.Combine(folder, truth.Part), truth.Instrument);
        var (take, cost) = Listen(recording, plan);
        var frames = new FrameJudge(truth, Curves.ReadCsv(Path.Combine(folder, truth.Name + ".csv")));
        var (stable, moving, low) = frames.Count(FrameJudge.Of(take.Track));
        return new TakeScore
        {
            Name = truth.Name,
            Source = truth.Source,
            Condition = truth.Condition,
            Seconds = truth.DurationSeconds,
            Cost = cost,
            Stable = stable,
            Moving = moving,
            Low = low,
            Notes = [.. truth.Notes.Select(n => Note(n, take.Notes[n.Index]))],
            Quantities = [.. truth.Changes.SelectMany(c => ChangeFigures.Of(truth.Name, c, take.Changes[c.Index]))],
            Verdicts = Verdicts(truth, plan, take, RoomLimit.Of(truth, plan, recording)),
            Limits = [.. PitchLimit.Of(truth, frames, take)],
        };
    }

    /// <summary>Hears a recording and says what it cost: processor time of the process, whose only computing thread this is.</summary>
    /// <remarks>Twice, and the better one counts: the machine has other work to do.</remarks>
    public static (Take Take, double Seconds) Listen(Recording recording, Plan plan)
    {
        var process = Process.GetCurrentProcess();
        var best = double.MaxValue;
        Take? take = null;
        for (var i = 0; i < 2; i++)
        {
            var before = Processor(process);
            take = Listener.Listen(recording, plan);
            best = Math.Min(best, Processor(process) - before);
        }

        return (take!, best);
    }

    private static double Processor(Process process)
    {
        process.Refresh();
        return process.TotalProcessorTime.TotalSeconds;
    }

    private static NoteScore Note(TruthNote truth, HeardNote heard) => new(
        truth.Onset, truth.Midi, heard.Found, 1000 * (heard.Onset?.Value - truth.Onset), heard.Cents?.Value - truth.Cents, heard.Level?.Value - truth.LevelDb);

    private static ImmutableArray<VerdictScore> Verdicts(TruthFile truth, Plan plan, Take take, HashSet<int> open)
    {
        var heard = Diagnostician.Judge(take, plan).Changes;
        var implied = TruthTake.Verdicts(truth, plan);
        var moved = Hairs.Select(h => TruthTake.Verdicts(truth, plan, h.Nudge, h.Stretch)).ToList();
        return [.. truth.Changes.Where(c => c.Kind != "breath").Select(c => new VerdictScore(
            truth.Name, c.Index, c.Time, c.Kind, Math.Min(c.FromMidi, c.ToMidi),
            Names(implied[c.Index]), Names(heard[c.Index].Verdicts),
            Names(moved.SelectMany(m => m[c.Index].SymmetricExcept(implied[c.Index])).Distinct())) { OpenByPhases = open.Count == 0 ? null : open.Contains(c.Index) })];
    }

    private static ImmutableArray<string> Names(IEnumerable<Verdict> verdicts) => [.. verdicts.Select(v => v.WireName()).Order(StringComparer.Ordinal)];
}
