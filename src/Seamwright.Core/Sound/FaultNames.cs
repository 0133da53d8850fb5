using System.Collections.Immutable;

namespace Seamwright.Core.Sound;

/// <summary>What faults are called on a command line and in files.</summary>
public static class FaultNames
{
    private static readonly ImmutableArray<(Fault Fault, string Name)> Names =
    [
        (Fault.None, "clean"), (Fault.Smeared, "smeared"), (Fault.SlowSlide, "slow-slide"), (Fault.LateTongue, "late-tongue"), (Fault.EarlyTongue, "early-tongue"),
        (Fault.HardTongue, "hard-tongue"), (Fault.StoppedAir, "stopped-air"), (Fault.NoTongue, "no-tongue"), (Fault.Cracked, "cracked"), (Fault.OutOfTune, "sharp"),
        (Fault.HurriedSlide, "hurried-slide"), (Fault.Tongued, "tongued"), (Fault.UnevenAir, "uneven-air"),
    ];

    /// <summary>Every name, <c>clean</c> first.</summary>
    public static ImmutableArray<string> All { get; } = [.. Names.Select(n => n.Name)];

    /// <summary>A fault's name, for instance <c>late-tongue</c>.</summary>
    public static string WireName(this Fault fault) => Names.Single(n => n.Fault == fault).Name;

    /// <summary>The fault of a name; null for a name that no fault has.</summary>
    public static Fault? Find(string name) => Names.Where(n => n.Name == name).Select(n => (Fault?)n.Fault).FirstOrDefault();
}
