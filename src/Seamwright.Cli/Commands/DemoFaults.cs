using Seamwright.Core.Planning;
using Seamwright.Core.Sound;

namespace Seamwright.Cli.Commands;

/// <summary>Which changes of any plan the demo's player gets wrong, and how.</summary>
internal static class DemoFaults
{
    private static readonly Fault[] OnSoftTongue =
        [Fault.Smeared, Fault.LateTongue, Fault.EarlyTongue, Fault.HardTongue, Fault.NoTongue, Fault.StoppedAir];

    private static readonly Fault[] OnNaturalSlur = [Fault.Cracked, Fault.OutOfTune, Fault.StoppedAir];

    /// <summary>Every kind of fault once where the plan has a change for it, spread over the piece.</summary>
    public static IReadOnlyDictionary<int, Fault> In(Plan plan)
    {
        var faults = new Dictionary<int, Fault>();
        Spread(plan, ChangeKind.SoftTongue, OnSoftTongue, faults);
        Spread(plan, ChangeKind.NaturalSlur, OnNaturalSlur, faults);
        return faults;
    }

    private static void Spread(Plan plan, ChangeKind kind, Fault[] kinds, Dictionary<int, Fault> faults)
    {
        var places = plan.Changes.Where(c => c.Kind == kind && (kind != ChangeKind.SoftTongue || c.SlideMotion != SlideMotion.Still)).ToList();
        var every = Math.Max(1, places.Count / kinds.Length);
        for (var i = 0; i < kinds.Length && i * every < places.Count; i++) faults[places[i * every].Index] = kinds[i];
    }
}
