using Seamwright.Core.Listening;

namespace Seamwright.Core.Diagnosis;

/// <summary>Why something stays open, and what a player can do about it.</summary>
/// <param name="Words">Without figures, for instance <c>noise hides the quiet moments</c>; equal for equal reasons.</param>
/// <param name="Remedy">An order without a full stop.</param>
internal sealed record OpenReason(string Words, string Remedy)
{
    private const string Again = "record it again: another take may settle it";
    private const string TrustTheEar = "trust your ear there, for no recording tells more";

    // Beyond the ear's own window, seconds.
    private const double EarWindow = 0.0131;

    /// <summary>The same with this case's figures.</summary>
    public string Said { get; init; } = Words;

    /// <summary>The file is damaged.</summary>
    public static readonly OpenReason Damage = new("the file is damaged here", "copy the file again if the original is whole, or record it again");

    /// <summary>A note is missing.</summary>
    public static readonly OpenReason NotFound = new("one of the two notes was not found", "play the notes that are written; see which were not found");

    /// <summary>A note was replaced by another.</summary>
    public static readonly OpenReason OtherNote = new("another note was played than is written", "play the notes that are written");

    /// <summary>What was played is no take of this part.</summary>
    public static readonly OpenReason OtherPiece = new("this is probably another piece", "see that it is the part that was played");

    /// <summary>A pitch an octave or a twelfth above a note may be that note's own partial.</summary>
    public static readonly OpenReason Overtone = new("what was caught lies an octave or a twelfth over a note, whose own sound may be as bright", Again);

    private static readonly OpenReason OtherSound = new("another sound is heard beside the player's", "use headphones for a play-along, and let nothing else sound");
    private static readonly OpenReason Clipping = new("the recording is overdriven here", "lower the recording level");
    private static readonly OpenReason Echo = new("a wall sends the old note back into the new one", "record nearer to the bell, or further from the walls");
    private static readonly OpenReason Reverberation = new("the notes ring on and fill the quiet moments", "record nearer to the bell, or in a drier room if this one rings");
    private static readonly OpenReason Noise = new("noise hides the quiet moments", "record nearer to the bell, or where it is quieter");
    private static readonly OpenReason LowNote = new("the notes are too low for such short moments", TrustTheEar);
    private static readonly OpenReason ShortNotes = new("the notes are too short to compare with", "play it slower");
    private static readonly OpenReason Unresolved = new("moments so short cannot be resolved", TrustTheEar);
    private static readonly OpenReason TooClose = new("this lies too close to the limit", Again);

    /// <summary>A reason that nothing but another take settles.</summary>
    /// <param name="words">As told.</param>
    public static OpenReason Own(string words) => new(words, Again);

    /// <summary>The worst reason why a figure of this change is not known better.</summary>
    /// <param name="heard">The change.</param>
    /// <param name="reading">The figure; where the ear gave no interval for it, the resolution is what is in doubt.</param>
    public static OpenReason Of(HeardChange heard, Reading reading)
    {
        if (heard.Doubts is [var worst, ..]) return Of(worst, heard);
        return reading.JustNoticed == 0 && Resolution(heard) is { } limit ? Unresolved with { Said = limit } : TooClose;
    }

    /// <summary>What one doubt about a change gives as reason.</summary>
    public static OpenReason Of(Doubt doubt, HeardChange heard) => doubt switch
    {
        Doubt.LowNote => LowNote with { Said = Resolution(heard) is { } limit ? $"the notes are low, and {limit}" : "two periods of so low a note last longer than the ear's window" },
        Doubt.Noise => Noise,
        Doubt.Reverberation => Reverberation,
        Doubt.Echo => Echo,
        Doubt.OtherSound => OtherSound with { Said = $"{OtherSound.Words}; use headphones" },
        Doubt.Clipping => Clipping,
        Doubt.Damage => Damage,
        _ => ShortNotes,
    };

    private static string? Resolution(HeardChange heard) => heard.Resolution is { } r && r.Value > EarWindow
        ? $"nothing shorter than {r.Milliseconds:0} ms can be resolved here"
        : null;
}
