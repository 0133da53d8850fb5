using System.Buffers.Binary;
using System.Collections.Concurrent;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Fonts;

/// <summary>What the layout must know of a TrueType file: which characters it has and how wide they are.</summary>
/// <remarks>Reads the tables head, hhea, hmtx, cmap (formats 4 and 12), loca and glyf of the OpenType specification 1.9.</remarks>
internal sealed class Typeface
{
    private readonly Dictionary<int, int> glyphs = [];
    private readonly int[] advances;
    private readonly int unitsPerEm;
    private readonly int loca;
    private readonly int glyf;
    private readonly bool longOffsets;
    private readonly ConcurrentDictionary<int, IReadOnlyList<PathStep>> outlines = [];

    public Typeface(string name, byte[] data)
    {
        Name = name;
        Data = data;
        var tables = Tables();
        unitsPerEm = U16(tables["head"] + 18);
        var count = U16(tables["hhea"] + 34);
        advances = [.. Enumerable.Range(0, count).Select(i => U16(tables["hmtx"] + (4 * i)))];
        (loca, glyf, longOffsets) = (tables["loca"], tables["glyf"], U16(tables["head"] + 50) != 0);
        ReadCharacters(tables["cmap"]);
    }

    public string Name { get; }

    public byte[] Data { get; }

    public bool Has(int codePoint) => glyphs.ContainsKey(codePoint);

    /// <summary>Whether a character survives in a subset: the PDF maker keeps the parts of a composed glyph, but not the parts of its parts,
    /// so that of a ½ composed twice over only the bar would be printed.</summary>
    public bool IsWhole(int codePoint) => glyphs.TryGetValue(codePoint, out var glyph) && Parts(glyph).TrueForAll(p => Parts(p).Count == 0);

    /// <summary>Advance width of a text in ems; a missing character counts half an em.</summary>
    public double WidthOf(string text) => text.EnumerateRunes().Sum(r => Advance(r.Value));

    /// <summary>A character's outline in ems, y downward from the baseline; empty where it has none.</summary>
    public IReadOnlyList<PathStep> OutlineOf(int codePoint) => outlines.GetOrAdd(codePoint, c =>
        glyphs.TryGetValue(c, out var glyph) ? new GlyphReader(Data, Offset, unitsPerEm).Read(glyph) : []);

    private double Advance(int codePoint) =>
        glyphs.TryGetValue(codePoint, out var glyph) ? (double)advances[Math.Min(glyph, advances.Length - 1)] / unitsPerEm : 0.5;

    /// <summary>Glyphs a composed glyph is made of; none for a simple one.</summary>
    private List<int> Parts(int glyph)
    {
        const int WideArguments = 0x1, OneScale = 0x8, More = 0x20, TwoScales = 0x40, Matrix = 0x80;
        var parts = new List<int>();
        var (at, end) = (Offset(glyph), Offset(glyph + 1));
        if (end - at < 10 || U16(at) < 0x8000) return parts;
        at += 10;
        int flags;
        do
        {
            flags = U16(at);
            parts.Add(U16(at + 2));
            at += 4 + ((flags & WideArguments) != 0 ? 4 : 2) + ((flags & OneScale) != 0 ? 2 : (flags & TwoScales) != 0 ? 4 : (flags & Matrix) != 0 ? 8 : 0);
        }
        while ((flags & More) != 0 && at < end);
        return parts;
    }

    private int Offset(int glyph) => glyf + (longOffsets ? I32(loca + (4 * glyph)) : 2 * U16(loca + (2 * glyph)));

    private Dictionary<string, int> Tables() =>
        Enumerable.Range(0, U16(4)).Select(i => 12 + (16 * i)).ToDictionary(at => System.Text.Encoding.ASCII.GetString(Data, at, 4), at => I32(at + 8));

    private void ReadCharacters(int cmap)
    {
        foreach (var at in Enumerable.Range(0, U16(cmap + 2)).Select(i => cmap + I32(cmap + 8 + (8 * i))))
        {
            if (U16(at) == 4) ReadFormat4(at);
            if (U16(at) == 12) ReadFormat12(at);
        }
    }

    private void ReadFormat4(int at)
    {
        var twice = U16(at + 6);
        var (ends, starts, deltas, ranges) = (at + 14, at + 16 + twice, at + 16 + (2 * twice), at + 16 + (3 * twice));
        for (var i = 0; i < twice; i += 2)
        {
            var (start, end, delta, range) = (U16(starts + i), U16(ends + i), U16(deltas + i), U16(ranges + i));
            for (var c = start; c <= end && c != 0xFFFF; c++)
            {
                var raw = range == 0 ? c : U16(ranges + i + range + (2 * (c - start)));
                var glyph = range != 0 && raw == 0 ? 0 : (raw + delta) & 0xFFFF;
                if (glyph != 0) glyphs.TryAdd(c, glyph);
            }
        }
    }

    private void ReadFormat12(int at)
    {
        for (var i = 0; i < I32(at + 12); i++)
        {
            var group = at + 16 + (12 * i);
            for (var c = I32(group); c <= I32(group + 4); c++) glyphs.TryAdd(c, I32(group + 8) + c - I32(group));
        }
    }

    private int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(Data.AsSpan(at));

    private int I32(int at) => BinaryPrimitives.ReadInt32BigEndian(Data.AsSpan(at));
}
