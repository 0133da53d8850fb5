using Seamwright.Core;

namespace Seamwright.Engraving.Fonts;

/// <summary>Tells which letters of a print no font has.</summary>
internal static class MissingSigns
{
    /// <summary>A problem for each text that cannot be printed whole.</summary>
    /// <param name="fonts">Of the print.</param>
    /// <param name="instead">What becomes of the letters, and where they can be seen.</param>
    /// <param name="texts">What a text is called, and the text.</param>
    public static IEnumerable<Problem> In(SheetFonts fonts, string instead, params (string Where, string Text)[] texts)
    {
        foreach (var (where, text) in texts)
        {
            var missing = string.Join(' ', fonts.Missing(text).Distinct());
            if (missing.Length > 0) yield return new Problem(where, $"The print's fonts have no sign for {missing}.", instead);
        }
    }
}
