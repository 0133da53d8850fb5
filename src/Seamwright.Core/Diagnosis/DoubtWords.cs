using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why something cannot be told, in files and in a reader's words.</summary>
public static class DoubtWords
{
    internal const string Damage = "the file is damaged here";
    internal const string Noise = "noise hides the quiet moments";
    internal const string Reverberation = "the room's own sound fills the quiet moments";
    internal const string Echo = "a wall sends the old note back into the new one";
    internal const string OtherSound = "another sound is heard beside the player's";
    internal const string Clipping = "the recording is overdriven here";
    internal const string ShortNotes = "the notes are too short to compare with";
    internal const string LowNote = "the notes are low, and ";
    internal const string LowPeriods = "two periods of so low a note last longer than the ear's window";
    internal const string Unresolved = "nothing shorter than ";
    internal const string TooClose = "this lies too close to the limit";

    // Beyond the ear's own window.
    private const double EarWindow = 0.0131;

    /// <summary><c>low-note</c>, <c>noise</c>, <c>reverberation</c>, <c>echo</c>, <c>other-sound</c>, <c>clipping</c>, <c>short-notes</c> or <c>damage</c>.</summary>
    public static string WireName(this Doubt doubt) => doubt switch
    {
        Doubt.LowNote => "low-note",
        Doubt.Noise => "noise",
        Doubt.Reverberation => "reverberation",
        Doubt.Echo => "echo",
        Doubt.OtherSound => "other-sound",
        Doubt.Clipping => "clipping",
        Doubt.ShortNotes => "short-notes",
        Doubt.Damage => "damage",
        _ => throw new ArgumentOutOfRangeException(nameof(doubt), doubt, "Not a doubt."),
    };

    /// <summary>The worst reason why a figure of this change is not known better.</summary>
    /// <param name="heard">The change.</param>
    /// <param name="reading">The figure; where the ear gave no interval for it, the resolution is what is in doubt.</param>
    internal static string Reason(HeardChange heard, Reading reading)
    {
        if (heard.Doubts is [var worst, ..]) return Words(worst, heard);
        return (reading.JustNoticed == 0 ? Resolution(heard) : null) ?? TooClose;
    }

    internal static string Words(Doubt doubt, HeardChange heard) => doubt switch
    {
        Doubt.LowNote => Resolution(heard) is { } r ? LowNote + r : LowPeriods,
        Doubt.Noise => Noise,
        Doubt.Reverberation => Reverberation,
        Doubt.Echo => Echo,
        Doubt.OtherSound => $"{OtherSound}; use headphones",
        Doubt.Clipping => Clipping,
        Doubt.Damage => Damage,
        _ => ShortNotes,
    };

    private static string? Resolution(HeardChange heard) => heard.Resolution is { } r && r.Value > EarWindow
        ? $"{Unresolved}{r.Milliseconds:0} ms can be resolved here"
        : null;
}
