using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis;

/// <summary>What is printed wherever somebody is told to practise.</summary>
public static class Cautions
{
    /// <summary>Sentences in the order they are printed. Pain is common: Wallace, Klinge and Chesky, Med. Probl. Perform. Art. 2016;
    /// sound levels: O'Brien et al., J. Acoust. Soc. Am. 134 (2013) 2748.</summary>
    public static ImmutableArray<string> Lines { get; } =
    [
        "Rest as long as you play, and stop when it hurts. Ask your teacher; for pain that stays, a doctor.",
        "Brass practised alone is loud enough to harm hearing over hours: take breaks, and mind small rooms.",
        "Levels here are relative to this take. A microphone that was never calibrated cannot tell sound pressure (dB SPL).",
    ];
}
