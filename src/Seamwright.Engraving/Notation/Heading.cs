using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>What stands above everything else at one place: a rehearsal mark, tempo words, a metronome mark.</summary>
/// <param name="Rehearsal">In a frame; may be empty.</param>
/// <param name="Words">For instance "Andante"; may be empty.</param>
/// <param name="Unit">The note the metronome counts; null for no metronome mark.</param>
/// <param name="PerMinute">How many of it in a minute.</param>
internal sealed record Heading(string Rehearsal, string Words, NoteValue? Unit, string PerMinute)
{
    /// <summary>Text about as wide as what will be drawn: the engraver makes room by it.</summary>
    public string Placeholder =>
        string.Join("  ", new[] { Rehearsal.Length > 0 ? $"{Rehearsal}m" : "", Words, Unit is { } u ? $"m{new string('.', u.Dots)} = {PerMinute}" : "" }.Where(s => s.Length > 0));
}

/// <summary>A part in the engraver's language, and what the page composer still has to draw itself.</summary>
/// <param name="Mei">The document.</param>
/// <param name="Headings">By id of the element that holds their place.</param>
internal sealed record NotationText(string Mei, IReadOnlyDictionary<string, Heading> Headings);

/// <summary>Prefixes of ids that hold a place for something the page composer draws; a score's own ids have no dot.</summary>
internal static class PlaceId
{
    public const string Position = "pos.";
    public const string Mark = "mark.";
    public const string Heading = "head.";
}
