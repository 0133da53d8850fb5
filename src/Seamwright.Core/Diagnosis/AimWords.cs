using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>What an exercise asked and how far it was done, in a reader's words.</summary>
internal static class AimWords
{
    /// <summary>A sentence for each aim, then one for each pair of tones; empty where no exercise asked.</summary>
    public static ImmutableArray<string> Lines(Diagnosis diagnosis, Plan plan) =>
        [.. diagnosis.Aims.Select(a => a.Sentence), .. diagnosis.TonePairs.Select(p => p.Sentence(plan))];

    /// <summary>For a column of twelve letters.</summary>
    public static string Short(ChangeIntent intent) => intent switch
    {
        ChangeIntent.ImaginedTongue => "only imagine",
        ChangeIntent.TouchedTone => "light touch",
        _ => intent.WireName().Replace('-', ' '),
    };
}
