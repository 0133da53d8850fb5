namespace Seamwright.Engraving;

/// <summary>Prefixes of the ids of what this project draws itself; a score's own ids have no dot.</summary>
public static class PlaceId
{
    /// <summary>Followed by the bar's index; a long rest has only the first of its bars.</summary>
    public const string Bar = "bar.";
    public const string Position = "pos.";
    public const string Mark = "mark.";
    public const string Syllable = "syl.";
    public const string Lyric = "lyric.";

    /// <summary>Followed by the mark's place among the note's marks, a dot and the note's id.</summary>
    public const string Heard = "heard.";
    public const string Heading = "head.";

    /// <summary>Followed by the note's id, a dot and the number of the beat in its bar, from 1: a beat within a held note.</summary>
    public const string Beat = "beat.";
}
