using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why something stays open, without the figures, and what a player can do about it.</summary>
/// <param name="Words">For instance <c>noise hides the quiet moments</c>.</param>
/// <param name="Remedy">An order without a full stop.</param>
internal sealed record OpenReason(string Words, string Remedy)
{
    /// <summary>How a finding says that one of its notes is missing.</summary>
    public const string NotFound = "one of the two notes was not found";

    private const string Again = "record it again: another take may settle it";
    private const string TrustTheEar = "trust your ear there, for no recording tells more";

    // What a basis says, in whatever figures it is wrapped; the first that is found counts.
    private static readonly ImmutableArray<(string Sign, OpenReason Reason)> Known =
    [
        (DoubtWords.Damage, new(DoubtWords.Damage, "copy the file again if the original is whole, or record it again")),
        (NotFound, new(NotFound, "play the notes that are written; see which were not found")),
        (DoubtWords.OtherSound, new(DoubtWords.OtherSound, "use headphones for a play-along, and let nothing else sound")),
        (DoubtWords.Clipping, new(DoubtWords.Clipping, "lower the recording level")),
        (DoubtWords.Echo, new(DoubtWords.Echo, "record nearer to the bell, or further from the walls")),
        (DoubtWords.Reverberation, new(DoubtWords.Reverberation, "record nearer to the bell, or in a drier room")),
        (DoubtWords.Noise, new(DoubtWords.Noise, "record nearer to the bell, or where it is quieter")),
        (DoubtWords.LowNote, new("the notes are too low for such short moments", TrustTheEar)),
        (DoubtWords.LowPeriods, new("the notes are too low for such short moments", TrustTheEar)),
        (DoubtWords.ShortNotes, new(DoubtWords.ShortNotes, "play it slower")),
        (DoubtWords.Unresolved, new("moments so short cannot be resolved", TrustTheEar)),
        (DoubtWords.TooClose, new(DoubtWords.TooClose, Again)),
        ("it lies an octave or a twelfth over a note", new("what was caught lies an octave or a twelfth over a note, whose own sound may be as bright", Again)),
    ];

    /// <summary>The reason of a finding that leaves something open, and what it leaves open: figures and limit, empty where it names none.</summary>
    public static (OpenReason Reason, string What) Of(string basis)
    {
        foreach (var (sign, reason) in Known)
        {
            if (basis.IndexOf(sign, StringComparison.Ordinal) is >= 0 and var at) return (reason, basis[..at].TrimEnd(' ', ':', ';'));
        }

        return (new(basis, Again), "");
    }
}
