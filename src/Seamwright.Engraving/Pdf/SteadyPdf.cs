using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace Seamwright.Engraving.Pdf;

/// <summary>Puts what follows from the content in place of what the PDF maker draws by lot: the same pages give the same bytes.</summary>
/// <remarks>Every replacement is as long as what it replaces, so that the file's own table of places stays right.</remarks>
internal static partial class SteadyPdf
{
    /// <summary>The same document without chance.</summary>
    /// <param name="pdf">As it was saved.</param>
    public static byte[] Of(byte[] pdf)
    {
        var text = Encoding.Latin1.GetString(pdf);
        var tags = new Dictionary<string, string>(StringComparer.Ordinal);
        text = SubsetTag().Replace(text, m => tags.TryGetValue(m.Value, out var known) ? known : tags[m.Value] = Tag(tags.Count));
        text = Identity().Replace(text, m => new string('0', m.Length));
        var hash = Convert.ToHexString(SHA256.HashData(Encoding.Latin1.GetBytes(text)))[..32];
        text = FileId().Replace(text, $"/ID[<{hash}><{hash}>]");
        text = Uuid().Replace(text, $"uuid:{Guid.ParseExact(hash, "N"):D}");
        return Encoding.Latin1.GetBytes(text);
    }

    // Six capital letters and a plus stand before the name of a subset font (ISO 32000-1, 9.6.4).
    private static string Tag(int number) => string.Concat(Enumerable.Range(0, 6).Select(i => (char)('A' + (number / (int)Math.Pow(26, 5 - i) % 26))));

    [GeneratedRegex(@"(?<=/(?:FontName|BaseFont)/)[A-Z]{6}(?=\+)")]
    private static partial Regex SubsetTag();

    [GeneratedRegex(@"(?<=/ID\[<)[0-9A-F]{32}(?=>)|(?<=/ID\[<[0-9A-F]{32}><)[0-9A-F]{32}(?=>\])|(?<=uuid:)[0-9a-f-]{36}(?=</xmpMM)")]
    private static partial Regex Identity();

    [GeneratedRegex(@"/ID\[<0{32}><0{32}>\]")]
    private static partial Regex FileId();

    [GeneratedRegex(@"uuid:0{36}")]
    private static partial Regex Uuid();
}
