namespace Seamwright.Core.Scores.MusicXml;

/// <summary>What a plan says about one note, as the sheet prints it; an empty text prints nothing.</summary>
/// <param name="Position">The slide position, for instance <c>F♭2</c>.</param>
/// <param name="Change">The sign for the kind of change that leads to this note.</param>
/// <param name="Syllable">The teacher's syllable for that change.</param>
public sealed record NoteMark(string Position, string Change, string Syllable);
