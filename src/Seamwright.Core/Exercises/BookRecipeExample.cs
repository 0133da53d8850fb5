namespace Seamwright.Core.Exercises;

/// <summary>A recipe to begin with: it works as it stands.</summary>
public static class BookRecipeExample
{
    /// <summary>JSON with line feeds.</summary>
    public const string Text = """
        {
          "schema": "seamwright.book/1",
          "title": "Joined and clear",
          "header": "Your name, your music school",
          "for": "a pupil in the second year",
          "date": "",
          "paper": "a4",
          "music": "large",
          "instrument": "tenor-straight",
          "level": 2,
          "clef": "bass",
          "player": { "maxPosition": 6, "policy": "where-needed", "prefer": "plain-positions" },
          "syllable": "du",
          "sound": { "turns": "example-then-you", "click": "throughout", "drone": "none", "ladder": "all" },
          "exercises": [
            { "chapter": "One note", "kind": "one-note", "touches": [2, 3] },
            { "kind": "one-note", "note": "F3", "touches": [2, 4], "tempos": [60, 72] },
            { "chapter": "Two notes", "kind": "two-notes", "positions": "1-2", "tempos": [60, 72, 84] },
            { "kind": "two-notes", "positions": "1-3", "tempos": [60, 72, 84] },
            { "kind": "two-notes", "positions": "1-4", "tempos": [60, 72, 84] },
            { "chapter": "Scales in three passes", "kind": "three-passes", "keys": ["Bb", "Ab"], "scale": "major", "registers": "middle", "tempos": [60, 72] },
            { "kind": "three-passes", "keys": "G", "scale": "natural-minor", "way": "down" }
          ]
        }

        """;
}
