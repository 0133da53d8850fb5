using System.Collections.Immutable;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>The order in which conditions are printed.</summary>
internal static class Conditions
{
    private static readonly ImmutableArray<string> Known = ["clean", "noise40", "noise30", "noise20", "reverb0.4", "reverb0.8", "mp3", "opus", "lowpass"];

    public static int Order(string condition) => Known.IndexOf(condition) is >= 0 and var i ? i : Known.Length;
}
