using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why something cannot be told, in files and in a reader's words.</summary>
public static class DoubtWords
{
    // Beyond the ear's own window.
    private const double EarWindow = 0.0131;

    /// <summary><c>low-note</c>, <c>noise</c>, <c>reverberation</c>, <c>echo</c>, <c>other-sound</c>, <c>clipping</c> or <c>short-notes</c>.</summary>
    public static string WireName(this Doubt doubt) => doubt switch
    {
        Doubt.LowNote => "low-note",
        Doubt.Noise => "noise",
        Doubt.Reverberation => "reverberation",
        Doubt.Echo => "echo",
        Doubt.OtherSound => "other-sound",
        Doubt.Clipping => "clipping",
        Doubt.ShortNotes => "short-notes",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "Not a doubt."),
    };

    /// <summary>The worst reason why a figure of this change is not known better.</summary>
    /// <param name="heard">The change.</param>
    /// <param name="reading">The figure; where the ear gave no interval for it, the resolution is what is in doubt.</param>
    internal static string Reason(HeardChange heard, Reading reading)
    {
        if (heard.Doubts is [var worst, ..]) return Words(worst, heard);
        return (reading.JustNoticed == 0 ? Resolution(heard) : null) ?? "this lies too close to the limit";
    }

    internal static string Words(Doubt doubt, HeardChange heard) => doubt switch
    {
        Doubt.LowNote => Resolution(heard) is { } r ? $"the notes are low, and {r}" : "two periods of so low a note last longer than the ear's window",
        Doubt.Noise => "noise hides the quiet moments",
        Doubt.Reverberation => "the room's own sound fills the quiet moments",
        Doubt.Echo => "a wall sends the old note back into the new one",
        Doubt.OtherSound => "another sound is heard beside the player's; use headphones",
        Doubt.Clipping => "the recording is overdriven here",
        _ => "the notes are too short to compare with",
    };

    private static string? Resolution(HeardChange heard) => heard.Resolution is { } r && r.Value > EarWindow
        ? $"nothing shorter than {r.Milliseconds:0} ms can be resolved here"
        : null;
}
