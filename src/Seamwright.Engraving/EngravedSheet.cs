using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;
using Seamwright.Engraving.Pdf;

namespace Seamwright.Engraving;

/// <summary>A finished sheet: the same pages as SVG and as PDF.</summary>
/// <remarks>In the SVG every note and rest is a group with the id it has in its <see cref="Core.Scores.Part"/>; positions have
/// the id <c>pos.</c> and marks <c>mark.</c> followed by the id of their note.</remarks>
public sealed class EngravedSheet
{
    private readonly ImmutableArray<XDocument> documents;
    private readonly PageSize size;
    private readonly SheetFonts fonts;

    internal EngravedSheet(ImmutableArray<XDocument> documents, ImmutableArray<SystemPlaces> systems, SheetWords words, PageSize size, SheetFonts fonts, ImmutableArray<Problem> problems)
    {
        this.documents = documents;
        this.size = size;
        this.fonts = fonts;
        Systems = systems;
        (Title, Author, Problems) = (words.Title, words.Composer, problems);
        Pages = [.. documents.Select(d => d.ToString(SaveOptions.DisableFormatting))];
    }

    public string Title { get; }

    /// <summary>The composer; empty where the score names none.</summary>
    public string Author { get; }

    /// <summary>One complete SVG document a page, in units of a hundredth of a millimetre; text stays text.</summary>
    public ImmutableArray<string> Pages { get; }

    /// <summary>Where the systems, their bars, notes and marks stand, in the units of their page; in sheet order.</summary>
    public ImmutableArray<SystemPlaces> Systems { get; }

    /// <summary>What could not be printed as asked.</summary>
    public ImmutableArray<Problem> Problems { get; }

    /// <summary>Writes all pages as one PDF with embedded, subset fonts and searchable text.</summary>
    /// <param name="output">Written to and left open.</param>
    /// <param name="created">The date the document gives; null gives none.</param>
    public void WritePdf(Stream output, DateTimeOffset? created = null) => PdfBook.Write(output, documents, size, fonts, new BookWords(Title, Author, "Marked trombone part"), created);

    /// <summary>Writes several sheets as one PDF, in their order.</summary>
    /// <param name="sheets">At least one, all on the paper of the first.</param>
    /// <param name="title">The document's.</param>
    /// <param name="output">Written to and left open.</param>
    /// <param name="created">The date the document gives; null gives none.</param>
    public static void WritePdf(IReadOnlyList<EngravedSheet> sheets, string title, Stream output, DateTimeOffset? created = null) =>
        PdfBook.Write(output, [.. sheets.SelectMany(s => s.documents)], sheets[0].size, sheets[0].fonts, new BookWords(title, sheets[0].Author, "Marked trombone parts"), created);
}
