using System.IO.Compression;
using System.Runtime.CompilerServices;
using System.Text;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;

namespace Seamwright.Tests.Scores;

/// <summary>Small MusicXML files made in the test, and where the repository's own stand.</summary>
internal static class Files
{
    public static string Root { get; } = Up(Path.GetDirectoryName(Here())!);

    public static string Melodies { get; } = Path.Combine(Root, "src", "Seamwright.Cli", "Melodies");

    /// <summary>The open standard's schema, where this machine has it.</summary>
    public static string? Schema()
    {
        var shared = Environment.GetEnvironmentVariable("SEAMWRIGHT_SHARED") ?? Path.Combine(Root, "..", "shared");
        var path = Path.Combine(shared, "reference", "musicxml.xsd");
        return File.Exists(path) ? path : null;
    }

    /// <summary>One part of one or more measures; the first gets divisions 12, 4/4 and the bass clef unless it has attributes.</summary>
    public static string Partwise(params string[] measures) => Wrap(string.Concat(measures.Select((m, i) => Measure(m, i))));

    public static string Wrap(string measures) =>
        $"""
        <?xml version="1.0" encoding="UTF-8"?>
        <!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
        <score-partwise version="4.0">
          <part-list><score-part id="P1"><part-name>Trombone</part-name></score-part></part-list>
          <part id="P1">{measures}</part>
        </score-partwise>
        """;

    public const string Start = "<attributes><divisions>12</divisions><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>F</sign><line>4</line></clef></attributes>";

    /// <summary>A note such as <c>N("C3", 12)</c>; more elements go after the duration, notations at the end.</summary>
    public static string N(string pitch, int duration, string more = "", string voice = "1") =>
        $"<note>{P(pitch)}<duration>{duration}</duration><voice>{voice}</voice>{more}</note>";

    public static string P(string pitch)
    {
        var p = Core.Units.Pitch.Parse(pitch);
        return $"<pitch><step>{p.Step}</step><alter>{p.Alter}</alter><octave>{p.Octave}</octave></pitch>";
    }

    public static string R(int duration, string voice = "1") => $"<note><rest/><duration>{duration}</duration><voice>{voice}</voice></note>";

    public static string Notations(string inner) => $"<notations>{inner}</notations>";

    public static Outcome<Score> Read(string xml) => Read(Encoding.UTF8.GetBytes(xml));

    public static Outcome<Score> Read(byte[] bytes, ReadLimits? limits = null) => MusicXmlReader.Read(new MemoryStream(bytes), "test.musicxml", limits);

    public static Part ReadPart(params string[] measures) => Read(Partwise(measures)).Value.Parts[0];

    public static Line Play(Part part) => Unfolder.Play(part, "test").Value;

    public static byte[] Written(Score score, IReadOnlyDictionary<string, NoteMark>? marks = null)
    {
        var stream = new MemoryStream();
        MusicXmlWriter.Write(score, marks, stream);
        return stream.ToArray();
    }

    public static byte[] Zip(params (string Name, byte[] Content)[] entries)
    {
        var stream = new MemoryStream();
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in entries)
            {
                using var entry = zip.CreateEntry(name).Open();
                entry.Write(content);
            }
        }

        return stream.ToArray();
    }

    public static byte[] Mxl(string xml) => Zip(("META-INF/container.xml", Utf8(Container("music/tune.musicxml"))), ("music/tune.musicxml", Utf8(xml)));

    public static string Container(string path) => $"""<?xml version="1.0"?><container><rootfiles><rootfile full-path="{path}"/></rootfiles></container>""";

    public static byte[] Utf8(string text) => Encoding.UTF8.GetBytes(text);

    private static string Measure(string content, int index) =>
        content.TrimStart().StartsWith("<measure", StringComparison.Ordinal) ? content
        : $"<measure number=\"{index + 1}\">{(index == 0 && !content.Contains("<divisions>", StringComparison.Ordinal) ? Start : "")}{content}</measure>";

    private static string Here([CallerFilePath] string path = "") => path;

    private static string Up(string folder) => File.Exists(Path.Combine(folder, "Seamwright.slnx")) ? folder : Up(Path.GetDirectoryName(folder)!);

    public static string Repeat(string direction) => $"<barline location=\"right\"><repeat direction=\"{direction}\"/></barline>";
}
