using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Something that belongs to one note and stands in a row.</summary>
/// <param name="Id">Of the drawn group.</param>
/// <param name="Kind">Its class.</param>
/// <param name="X">Where its own origin goes.</param>
/// <param name="Drawing">About the origin.</param>
/// <param name="Box">Its ink about the origin.</param>
internal sealed record RowItem(string Id, string Kind, double X, XElement Drawing, Box Box)
{
    /// <summary>Whether it belongs to a grace note: small, and moved out of the row where it is crowded.</summary>
    public bool IsSmall { get; init; }

    /// <summary>The same for a grace note.</summary>
    public RowItem Small(double scale) => this with
    {
        IsSmall = true,
        Drawing = Print.Element("g", Print.Is("transform", $"scale({Print.Number(scale)}, {Print.Number(scale)})"), Drawing),
        Box = new(Box.Left * scale, Box.Top * scale, Box.Right * scale, Box.Bottom * scale),
    };
}

/// <summary>A note of a system.</summary>
/// <param name="Id">As in the part.</param>
/// <param name="X">Where its head is centred.</param>
/// <param name="IsGrace">Whether it is small.</param>
internal readonly record struct DrawnNote(string Id, double X, bool IsGrace);

/// <summary>A beat within a held note.</summary>
/// <param name="Id">Of what held its place.</param>
/// <param name="NoteId">As in the part.</param>
/// <param name="X">Where it is.</param>
internal readonly record struct DrawnBeat(string Id, string NoteId, double X)
{
    /// <summary>From the id that held its place.</summary>
    public static DrawnBeat Of(string id, double x) => new(id, id[PlaceId.Beat.Length..id.LastIndexOf('.')], x);
}

/// <summary>Draws what stands around notes, and tells how wide a note's column must be.</summary>
internal sealed class NoteRows(Part part, ImmutableDictionary<string, NoteGuide> guides, SheetFonts fonts)
{
    private const double PositionSize = 390;
    private const double SyllableSize = 350;
    private const double LyricSize = 350;
    private const double Between = 20;

    // Labels of more than one sign side by side read as one without a letter's width between them.
    private const double BetweenPositions = 110;

    private const double GraceScale = 0.7;

    private readonly HashSet<string> graces = [.. part.Notes.Where(n => n.Grace != Grace.None).Select(n => n.Id)];
    private readonly Dictionary<string, string> lyrics = LyricsOf(part);

    public bool IsGrace(string id) => graces.Contains(id);

    /// <summary>Width that a note's column needs so that neighbours never touch; 0 where nothing stands around the note.</summary>
    public double ColumnOf(string id)
    {
        var guide = guides.GetValueOrDefault(id) ?? NoteGuide.Empty;
        double[] widths =
        [
            guide.Position is null ? 0 : TextPiece.Width(TextPiece.Of(PositionText(guide)), fonts) + BetweenPositions - Between,
            MarkShapes.WidthOf(guide.Marks),
            .. guide.Heard.Select(HeardWidth),
            fonts.Width(Face.MusicItalic, SyllableSize, guide.Syllable),
            fonts.Width(Face.Music, LyricSize, lyrics.GetValueOrDefault(id) ?? ""),
        ];
        return widths.Max() is > 0 and var widest ? widest + Between : 0;
    }

    /// <summary>The row above.</summary>
    public IReadOnlyList<RowItem> Positions(IEnumerable<DrawnNote> notes) =>
        [.. notes.Where(n => guides.GetValueOrDefault(n.Id)?.Position is not null).Select(n => Text(n, "position", PositionText(guides[n.Id]), PlaceId.Position))];

    /// <summary>The rows below, from the staff down.</summary>
    /// <param name="notes">The system's.</param>
    /// <param name="beats">Beats within held notes that say their syllable again.</param>
    public IEnumerable<IReadOnlyList<RowItem>> Below(IReadOnlyCollection<DrawnNote> notes, IReadOnlyCollection<DrawnBeat> beats)
    {
        yield return [.. notes.Where(n => guides.GetValueOrDefault(n.Id)?.Marks.IsEmpty == false).Select(Mark)];
        for (var i = 0; i < guides.Values.Select(g => g.Heard.Length).DefaultIfEmpty().Max(); i++)
            yield return [.. notes.Where(n => guides.GetValueOrDefault(n.Id)?.Heard.Length > i).Select(n => Heard(n, i))];
        yield return [.. notes.Where(n => !n.IsGrace && guides.GetValueOrDefault(n.Id)?.Syllable.Length > 0).Select(n => Text(n, "syllable", Word(Face.MusicItalic, SyllableSize, guides[n.Id].Syllable), PlaceId.Syllable)), .. beats.Where(b => guides.ContainsKey(b.NoteId)).Select(Beat)];
        yield return [.. notes.Where(n => lyrics.ContainsKey(n.Id)).Select(n => Text(n, "lyric", Word(Face.Music, LyricSize, lyrics[n.Id]), PlaceId.Lyric))];
    }

    private static Dictionary<string, string> LyricsOf(Part part) => part.Notes
        .Select(n => (n.Id, Text: PlainText.OneLine(n.Lyric))).Where(n => n.Text.Length > 0).DistinctBy(n => n.Id)
        .ToDictionary(n => n.Id, n => n.Text, StringComparer.Ordinal);

    private static XElement Word(Face face, double size, string text) => Print.Text(face, size, 0, 0, text, "middle");

    private RowItem Mark(DrawnNote note)
    {
        var marks = guides[note.Id].Marks;
        var half = MarkShapes.WidthOf(marks) / 2;
        var item = new RowItem(PlaceId.Mark + note.Id, "mark", note.X, MarkShapes.Row(marks), new(-half, -MarkShapes.HalfHeight, half, MarkShapes.HalfHeight));
        return note.IsGrace ? item.Small(GraceScale) : item;
    }

    private double HeardWidth(HeardMark mark) => Math.Max(HeardPrint.ShapeWidth, fonts.Width(HeardPrint.Face, HeardPrint.WordSize, mark.Word));

    private RowItem Heard(DrawnNote note, int index)
    {
        var mark = guides[note.Id].Heard[index];

        // Between a grace note and its note there is no room for a word: the sign says it, and the key beside the music explains it.
        if (note.IsGrace) mark = mark with { Word = "" };
        var half = HeardWidth(mark) / 2;
        return new($"{PlaceId.Heard}{index}.{note.Id}", $"heard {HeardPrint.Look(mark.Verdict)}", note.X, HeardPrint.Draw(mark), new(-half, -HeardPrint.HalfShape, half, HeardPrint.Bottom(mark)));
    }

    private RowItem Beat(DrawnBeat beat)
    {
        var syllable = guides[beat.NoteId].Syllable;
        var half = fonts.Width(Face.MusicItalic, SyllableSize, syllable) / 2;
        return new(beat.Id, "syllable", beat.X, Word(Face.MusicItalic, SyllableSize, syllable), new(-half, -0.70 * SyllableSize, half, 0.02 * SyllableSize));
    }

    private RowItem Text(DrawnNote note, string kind, XElement text, string prefix)
    {
        var (pieces, size) = (TextPiece.Of(text), TextPiece.Of(text).Max(p => p.Size));
        var half = TextPiece.Width(pieces, fonts) / 2;

        // Digits, signs and short syllables hardly reach below their line; brackets do.
        var descent = kind == "position" && guides[note.Id].LaterPositions.IsEmpty ? 0.02 : 0.22;
        var item = new RowItem(prefix + note.Id, kind, note.X, text, new(-half, -0.70 * size, half, descent * size));
        return note.IsGrace ? item.Small(GraceScale) : item;
    }

    private static XElement PositionText(NoteGuide guide)
    {
        var text = Print.Element("text", Print.Is("x", 0), Print.Is("y", 0), Print.Is("text-anchor", "middle"));
        text.Add(Spans(guide.Position!));
        if (guide.LaterPositions.IsEmpty) return text;
        text.Add(Print.Span(Face.Music, PositionSize, " ["));
        for (var i = 0; i < guide.LaterPositions.Length; i++)
        {
            if (i > 0) text.Add(Print.Span(Face.Music, PositionSize, " "));
            text.Add(Spans(guide.LaterPositions[i]));
        }

        text.Add(Print.Span(Face.Music, PositionSize, "]"));
        return text;
    }

    private static IEnumerable<XElement> Spans(PositionPrint position)
    {
        // A valve whose own name has a sign keeps a thin space: the sign must not seem to belong to the place.
        var valves = position.Valves.EndsWith('♭') ? position.Valves + "\u2009" : position.Valves;
        if (valves.Length > 0) yield return Print.Span(Face.Music, PositionSize, valves);
        yield return Print.Span(Face.MusicBold, PositionSize, position.Place);
    }
}
