using Seamwright.Core.Scores;

namespace Seamwright.Engraving.Notation;

/// <summary>What stands above everything else at one place: a sign of the way, a rehearsal mark, tempo words, a metronome mark.</summary>
/// <param name="Segno">The sign a jump goes back to.</param>
/// <param name="Coda">The sign of the coda.</param>
/// <param name="Rehearsal">In a frame; may be empty.</param>
/// <param name="Words">For instance "Andante"; may be empty.</param>
/// <param name="Unit">The note the metronome counts; null for no metronome mark.</param>
/// <param name="PerMinute">How many of it in a minute.</param>
internal sealed record Heading(bool Segno, bool Coda, string Rehearsal, string Words, NoteValue? Unit, string PerMinute)
{
    /// <summary>Heads a section of an exercise, at the left above everything else; such a heading holds nothing more.</summary>
    public string Section { get; init; } = "";

    /// <summary>The heading of a section.</summary>
    public static Heading OfSection(string words) => new(false, false, "", "", null, "") { Section = words };

    public bool IsEmpty => Section.Length == 0 && !Segno && !Coda && Rehearsal.Length == 0 && Words.Length == 0 && Unit is null;
}

/// <summary>A part in the engraver's language, and what the page composer still has to draw itself.</summary>
/// <param name="Mei">The document.</param>
/// <param name="Headings">By id of the element that holds their place.</param>
internal sealed record NotationText(string Mei, IReadOnlyDictionary<string, Heading> Headings);
