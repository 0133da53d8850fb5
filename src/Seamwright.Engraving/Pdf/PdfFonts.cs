using PdfSharp.Fonts;
using Seamwright.Engraving.Fonts;

namespace Seamwright.Engraving.Pdf;

/// <summary>Hands our typefaces to PDFsharp, which asks for them by name, once for the whole process.</summary>
internal sealed class PdfFonts : IFontResolver
{
    private static readonly Lock Gate = new();
    private static readonly PdfFonts Shared = new();
    private readonly Dictionary<string, byte[]> known = new(StringComparer.Ordinal);

    public static void Register(SheetFonts fonts)
    {
        lock (Gate)
        {
            if (GlobalFontSettings.FontResolver is not PdfFonts) GlobalFontSettings.FontResolver = Shared;
            foreach (var typeface in fonts.All) Shared.known.TryAdd(typeface.Name, typeface.Data);
        }
    }

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic)
    {
        lock (Gate) return known.ContainsKey(familyName) ? new FontResolverInfo(familyName) : null;
    }

    public byte[]? GetFont(string faceName)
    {
        lock (Gate) return known.GetValueOrDefault(faceName);
    }
}
