using Seamwright.Core.Exercises;

namespace Seamwright.Engraving;

/// <summary>What a book of exercises looks like and says besides them.</summary>
public sealed record BookOptions
{
    public Paper Paper { get; init; } = Paper.A4;

    /// <summary>On the cover, in the document's properties and at the foot of every page.</summary>
    public string Title { get; init; } = "";

    /// <summary>The teacher's own line at the head of the cover; empty for none.</summary>
    public string Header { get; init; } = "";

    /// <summary>For whom it is; empty for nobody in particular.</summary>
    public string For { get; init; } = "";

    /// <summary>The instrument as it is named on the cover; empty for none.</summary>
    public string Instrument { get; init; } = "";

    /// <summary>A date as the teacher writes it; empty for none.</summary>
    public string Date { get; init; } = "";

    /// <summary>A PNG or JPEG file for the cover; null for none. Drawn as wide as the text or half a page high, whatever is less.</summary>
    public BookImage? Image { get; init; }

    /// <summary>What the tongue says, up to 8 characters. Default "du".</summary>
    public string Syllable { get; init; } = "du";

    /// <summary>How large the staff is, 0.7 to 1.2; 1 has spaces of 1.76 mm. Default 0.88; a beginner's book reads better at 1.</summary>
    public double MusicSize { get; init; } = 0.88;

    /// <summary>Whether purpose and ways of practising stand at every exercise. Else an exercise whose words are those of one before only
    /// names its number, so that more have room on a page.</summary>
    public bool RepeatsWords { get; init; } = true;

    /// <summary>Whether cover, contents and the page that explains the signs stand before the exercises; without them the signs are
    /// explained behind the last one.</summary>
    public bool HasFront { get; init; } = true;
}

/// <summary>One exercise of a book.</summary>
/// <param name="Exercise">As it was made.</param>
/// <param name="Chapter">Heads a chapter that begins with it; empty where it goes on.</param>
public sealed record BookEntry(Exercise Exercise, string Chapter = "");
