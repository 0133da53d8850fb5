using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Seamwright.Core.Scores;

namespace Seamwright.Audio.Writing;

/// <summary>Tags as the formats hold them.</summary>
internal static class TagTexts
{
    private const int Longest = 2000;

    private static readonly string[] Circle = ["Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "D#", "A#"];

    /// <summary>Names and texts of Vorbis comments: TITLE and DESCRIPTION are the format's own, KEY and BPM what players look for.</summary>
    public static IEnumerable<(string Name, string Text)> VorbisComments(SoundTags tags)
    {
        if (Clean(tags.Title) is { } title) yield return ("TITLE", title);
        if (tags.Key is { } key) yield return ("KEY", Words(key));
        if (tags.Tempo is { } tempo) yield return ("BPM", Number(tempo));
        if (Clean(tags.Comment) is { } comment) yield return ("DESCRIPTION", comment);
    }

    /// <summary>A packet of Vorbis comments as RFC 7845, section 5.2, asks.</summary>
    public static byte[] OpusTags(SoundTags tags)
    {
        var comments = VorbisComments(tags).Select(t => Sized($"{t.Name}={t.Text}")).ToList();
        return [.. "OpusTags"u8, .. Sized("Seamwright"), .. Little(comments.Count), .. comments.SelectMany(c => c)];
    }

    /// <summary>A LIST chunk of the type INFO, or nothing where there is nothing to say.</summary>
    public static byte[] Info(SoundTags tags)
    {
        var more = new List<string>();
        if (Clean(tags.Comment) is { } comment) more.Add(comment);
        if (tags.Key is { } key) more.Add("key " + Words(key));
        if (tags.Tempo is { } tempo) more.Add($"{Number(tempo)} beats a minute");
        byte[] entries = [.. Entry("INAM", Clean(tags.Title)), .. Entry("ICMT", more.Count == 0 ? null : string.Join("; ", more))];
        return entries.Length == 0 ? [] : [.. "LIST"u8, .. Little(entries.Length + 4), .. "INFO"u8, .. entries];
    }

    /// <summary>An ID3 tag, version 2.3.0 (www.id3.org, 1999), or nothing where there is nothing to say.</summary>
    public static byte[] Id3(SoundTags tags)
    {
        byte[] frames =
        [
            .. Frame("TIT2", [], Clean(tags.Title)),
            .. Frame("TKEY", [], tags.Key is { } key ? Short(key) : null),
            .. Frame("TBPM", [], tags.Tempo is { } tempo ? Number(Math.Max(1, Math.Round(tempo))) : null),

            // English, and no description, which ends with two zeros.
            .. Frame("COMM", [.. "eng"u8, 0xFF, 0xFE, 0, 0], Clean(tags.Comment)),
        ];
        if (frames.Length == 0) return [];
        var n = frames.Length;
        return [.. "ID3"u8, 3, 0, 0, (byte)(n >> 21), (byte)((n >> 14) & 127), (byte)((n >> 7) & 127), (byte)(n & 127), .. frames];
    }

    /// <summary>A key in words.</summary>
    public static string Words(KeySignature key) => $"{Tonic(key)} {(key.Mode == KeyMode.Minor ? "minor" : "major")}";

    private static string Short(KeySignature key) => Tonic(key) + (key.Mode == KeyMode.Minor ? "m" : "");

    private static string Tonic(KeySignature key) => Circle[key.Fifths + 7 + (key.Mode == KeyMode.Minor ? 3 : 0)];

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string? Clean(string? text)
    {
        if (string.IsNullOrWhiteSpace(text)) return null;
        var plain = string.Concat(text.EnumerateRunes().Take(Longest).Select(r => Rune.IsControl(r) ? " " : r.ToString())).Trim();
        return plain.Length == 0 ? null : plain;
    }

    // UTF-16 with its byte order mark: version 2.3 knows no UTF-8.
    private static byte[] Frame(string id, byte[] before, string? text)
    {
        if (text is null) return [];
        byte[] content = [1, .. before, 0xFF, 0xFE, .. Encoding.Unicode.GetBytes(text)];
        var size = new byte[4];
        BinaryPrimitives.WriteInt32BigEndian(size, content.Length);
        return [.. Encoding.ASCII.GetBytes(id), .. size, 0, 0, .. content];
    }

    private static byte[] Entry(string id, string? text)
    {
        if (text is null) return [];
        byte[] content = [.. Encoding.UTF8.GetBytes(text), 0];
        return [.. Encoding.ASCII.GetBytes(id), .. Little(content.Length), .. content, .. content.Length % 2 == 1 ? (byte[])[0] : []];
    }

    private static byte[] Sized(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text);
        return [.. Little(bytes.Length), .. bytes];
    }

    private static byte[] Little(int value)
    {
        var bytes = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, value);
        return bytes;
    }
}
