using System.Collections.Immutable;
using Seamwright.Core.Sound;

namespace Seamwright.Studio.Features.Piece;

/// <summary>The faults a page lets hear, in words.</summary>
internal static class Faults
{
    public static ImmutableArray<(string Name, Fault Fault, string Words)> All { get; } =
    [
        ("clean", Fault.None, "clean"),
        ("smeared", Fault.Smeared, "smeared"),
        ("late-tongue", Fault.LateTongue, "tongue late"),
        ("early-tongue", Fault.EarlyTongue, "tongue early"),
        ("hard-tongue", Fault.HardTongue, "tongue hard"),
        ("stopped-air", Fault.StoppedAir, "air stopped"),
        ("no-tongue", Fault.NoTongue, "no tongue"),
        ("cracked", Fault.Cracked, "cracked"),
    ];

    public static IEnumerable<string> Names => All.Select(f => f.Name);

    /// <summary>Null for any other name.</summary>
    public static Fault? Find(string name) => All.FirstOrDefault(f => f.Name == name) is { Name: not null } found ? found.Fault : null;
}
