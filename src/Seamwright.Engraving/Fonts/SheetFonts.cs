using System.Text;
using Seamwright.Engraving.Engines;

namespace Seamwright.Engraving.Fonts;

/// <summary>The faces a sheet uses.</summary>
internal enum Face
{
    /// <summary>Text among the notes: the engraver spaces text with the widths of this face.</summary>
    Music,
    MusicItalic,
    MusicBold,

    /// <summary>Page furniture: title, legend, foot.</summary>
    Page,
    PageItalic,
    PageStrong,
}

/// <summary>A stretch of text in one typeface.</summary>
internal readonly record struct TextRun(string Text, Typeface Typeface);

/// <summary>The open fonts that npm brought, with a fallback for signs they lack.</summary>
internal sealed class SheetFonts
{
    private static readonly Lock Gate = new();
    private static readonly Dictionary<string, SheetFonts> Loaded = [];
    private readonly Dictionary<Face, Typeface> faces;
    private readonly Typeface[] fallbacks;

    private SheetFonts(string folder)
    {
        faces = new()
        {
            [Face.Music] = Load("Tinos-Regular"),
            [Face.MusicItalic] = Load("Tinos-Italic"),
            [Face.MusicBold] = Load("Tinos-Bold"),
            [Face.Page] = Load("SourceSerif4-Regular"),
            [Face.PageItalic] = Load("SourceSerif4-Italic"),
            [Face.PageStrong] = Load("SourceSerif4-SemiBold"),
        };
        fallbacks = [Load("DejaVuSerif"), Load("DejaVuSans")];

        Typeface Load(string name)
        {
            var path = Path.Combine(folder, name + ".ttf");
            if (!File.Exists(path)) throw new EngravingException($"The sheet's font {path} is missing. Build again, or restore the folder 'engraving' beside the program.");
            return new Typeface(name, File.ReadAllBytes(path));
        }
    }

    public IEnumerable<Typeface> All => faces.Values.Concat(fallbacks);

    /// <summary>Loaded once for each folder.</summary>
    public static SheetFonts From(string folder)
    {
        lock (Gate)
        {
            return Loaded.TryGetValue(folder, out var fonts) ? fonts : Loaded[folder] = new SheetFonts(folder);
        }
    }

    /// <summary>Cuts a text where the typeface must change; a character that no font has is left out.</summary>
    public IReadOnlyList<TextRun> Runs(Face face, string text)
    {
        var runs = new List<TextRun>();
        var current = new StringBuilder();
        Typeface? typeface = null;
        foreach (var rune in text.EnumerateRunes())
        {
            if (TypefaceFor(face, rune) is not { } next) continue;
            if (next != typeface) Flush();
            typeface = next;
            current.Append(rune);
        }

        Flush();
        return runs;

        void Flush()
        {
            if (current.Length > 0) runs.Add(new(current.ToString(), typeface!));
            current.Clear();
        }
    }

    /// <summary>Width of a text.</summary>
    /// <param name="face">Its face.</param>
    /// <param name="size">Height of an em, in the unit the answer has.</param>
    /// <param name="text">The text.</param>
    public double Width(Face face, double size, string text) => Runs(face, text).Sum(r => r.Typeface.WidthOf(r.Text)) * size;

    /// <summary>The characters of a text that no font has.</summary>
    public IEnumerable<Rune> Missing(string text) =>
        text.EnumerateRunes().Where(r => !IsInvisible(r) && TypefaceFor(Face.Page, r) is null);

    private static bool IsInvisible(Rune rune) => rune.Value is 0x200D or (>= 0xFE00 and <= 0xFE0F);

    // The music faces lend the page faces what those lack: they match better than the fallbacks.
    private static Face WithoutFurniture(Face face) => face switch
    {
        Face.Page => Face.Music,
        Face.PageItalic => Face.MusicItalic,
        Face.PageStrong => Face.MusicBold,
        _ => face,
    };

    private Typeface? TypefaceFor(Face face, Rune rune)
    {
        if (IsInvisible(rune)) return null;
        IEnumerable<Typeface> candidates = [faces[face], faces[WithoutFurniture(face)], .. fallbacks];
        return candidates.FirstOrDefault(f => f.IsWhole(rune.Value)) ?? candidates.FirstOrDefault(f => f.Has(rune.Value));
    }
}
