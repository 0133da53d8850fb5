using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why something cannot be told, in files.</summary>
public static class DoubtWords
{
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
}
