using Seamwright.Core.Scores;

namespace Seamwright.Film.Score;

/// <summary>The note that a tempo counts.</summary>
public enum BeatNote
{
    Quarter,

    /// <summary>In 6/8, 9/8 and 12/8.</summary>
    DottedQuarter,

    /// <summary>In 2/2, 3/2 and other meters over 2.</summary>
    Half,
}

/// <summary>Which note a meter counts.</summary>
internal static class BeatNotes
{
    public static BeatNote Of(Meter meter) => meter switch
    {
        { BeatUnit: 8, Beats: 6 or 9 or 12 } => BeatNote.DottedQuarter,
        { BeatUnit: 2 } => BeatNote.Half,
        _ => BeatNote.Quarter,
    };

    /// <summary>Its length in quarters.</summary>
    public static double Quarters(this BeatNote beat) => beat switch { BeatNote.DottedQuarter => 1.5, BeatNote.Half => 2, _ => 1 };
}
