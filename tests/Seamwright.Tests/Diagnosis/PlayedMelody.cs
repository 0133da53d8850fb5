using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound;

namespace Seamwright.Tests.Diagnoses;

/// <summary>A melody of ours as it would be heard from a player with known faults, without any ears.</summary>
internal sealed record PlayedMelody(Part Part, Plan Plan, InventedTake Take, ReportText Report)
{
    /// <summary>Reads, plans and plays one of the invented melodies: five kinds of fault in its first soft tongues, and air that stops now and then.</summary>
    public static PlayedMelody Of(string melody)
    {
        using var file = File.OpenRead(Path.Combine(Repository.Root, "src", "Seamwright.Cli", "Melodies", melody + ".musicxml"));
        var score = MusicXmlReader.Read(file, melody).Value;
        var part = PartChooser.Choose(score, Catalogue.Default, null, null).Value;
        var plan = Planner.Plan(Unfolder.Play(part, score.Title, null).Value, Catalogue.Default).Value;
        var take = InventedTake.Of(plan, Faults(plan), lost: -1).WithIntervals();
        return new(part, plan, take, ReportText.Of(take.Take, take.Diagnosis, plan, new(plan.Line.Title, "take 7.wav")));
    }

    private static Dictionary<int, Fault> Faults(Plan plan)
    {
        Fault[] order = [Fault.Smeared, Fault.LateTongue, Fault.EarlyTongue, Fault.StoppedAir, Fault.HardTongue];
        var faults = plan.Changes.ToDictionary(c => c.Index, c => c.Index % 31 == 7 && c.Kind != ChangeKind.Breath ? Fault.StoppedAir : Fault.None);
        foreach (var (soft, i) in plan.Changes.Where(c => c.Kind == ChangeKind.SoftTongue).Take(6).Select((c, i) => (c, i))) faults[soft.Index] = order[i % order.Length];
        return faults;
    }
}
