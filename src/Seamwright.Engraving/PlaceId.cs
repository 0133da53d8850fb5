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
    public const string Heading = "head.";
}
