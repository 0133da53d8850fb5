using System.Text;
using CsCheck;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using static Seamwright.Tests.Scores.Files;

namespace Seamwright.Tests.Scores;

public class UntrustedFileTests
{
    [Theory]
    [InlineData("", "empty")]
    [InlineData("Hello", "not a MusicXML file")]
    [InlineData("<html/>", "outermost element is <html>")]
    [InlineData("<opus/>", "outermost element is <opus>")]
    [InlineData("<score-partwise/>", "no part with a bar")]
    [InlineData("<score-partwise><part id=\"P1\"/></score-partwise>", "no part with a bar")]
    [InlineData("<score-timewise><measure/></score-timewise>", "no part with a bar")]
    [InlineData("<score-partwise><part></score-partwise>", "XML is broken")]
    [InlineData("<score-partwise>&secret;</score-partwise>", "XML is broken")]
    public void What_is_no_score_gives_one_clear_error(string content, string said) => Refused(Utf8(content), said);

    [Fact]
    public void A_file_cut_short_names_line_and_position()
    {
        var xml = Partwise(N("C3", 48));

        var problem = Refused(Utf8(xml[..(xml.Length / 2)]), "XML is broken");

        Assert.Matches(@"^test\.musicxml, line \d+, position \d+$", problem.Where);
    }

    [Fact]
    public void A_compressed_file_cut_short_is_refused() => Refused(Mxl(Partwise(N("C3", 48)))[..^40], "cannot be unpacked");

    [Fact]
    public void An_archive_without_a_score_is_refused() => Refused(Zip(("a.txt", Utf8("x"))), "holds no MusicXML document");

    [Fact]
    public void A_container_that_names_a_missing_file_is_refused() => Refused(Zip(("META-INF/container.xml", Utf8(Container("../../etc/passwd")))), "does not hold it");

    [Fact]
    public void Entities_are_neither_fetched_nor_expanded()
    {
        const string Doctype = "<!DOCTYPE score-partwise [<!ENTITY a SYSTEM \"file:///etc/hostname\"><!ENTITY b \"&a;&a;\">]>";

        Refused(Utf8(Doctype + "<score-partwise><work><work-title>&b;</work-title></work></score-partwise>"), "XML is broken");
        Assert.True(Read(Doctype + Partwise(N("C3", 48))[Partwise("").IndexOf("<score", StringComparison.Ordinal)..]).Succeeded);
    }

    [Fact]
    public void A_file_that_unpacks_beyond_all_measure_is_refused()
    {
        var bomb = new byte[30 << 20];
        bomb.AsSpan().Fill((byte)' ');
        bomb[0] = (byte)'<';

        Refused(Zip(("tune.xml", bomb)), "times its size");
    }

    [Fact]
    public void Size_depth_elements_entries_and_bars_have_limits()
    {
        Refused(new byte[2000], "is larger than", ReadLimits.Default with { MostBytes = 1024 });
        Refused(Utf8(string.Concat(Enumerable.Repeat("<a>", 100_000))), "deeper than 64");
        Refused(Utf8("<score-partwise>" + string.Concat(Enumerable.Repeat("<a/>", 200)) + "</score-partwise>"), "more than 100 elements", ReadLimits.Default with { MostElements = 100 });
        Refused(Zip([.. Enumerable.Range(0, 300).Select(i => ($"{i}.xml", Utf8("<a/>")))]), "more than 256");
        Refused(Utf8(Partwise([.. Enumerable.Repeat(N("C3", 48), 30)])), "more than 20 bars", ReadLimits.Default with { MostBars = 20 });
        Refused(Utf8(Partwise([.. Enumerable.Repeat(N("C3", 48), 30)])), "in all its parts", ReadLimits.Default with { MostBarsInAll = 20 });
        Refused(Utf8(Partwise([N("C3", 48, voice: "2"), .. Enumerable.Repeat(N("C3", 48), 19)])), "in all its voices", ReadLimits.Default with { MostBarsInAll = 20 });
    }

    [Fact]
    public void Limits_out_of_range_are_said() => Refused(Utf8(Partwise(N("C3", 48))), "most bytes is 0", ReadLimits.Default with { MostBytes = 0 });

    [Fact]
    public void Reading_a_hostile_file_grows_no_faster_than_the_file()
    {
        // Ever new divisions would make exact sums ever longer numbers; ever open slurs would make pairing quadratic.
        Assert.InRange(Allocated(20_000) / (double)Allocated(5_000), 3, 6);
    }

    // Bytes, which the machine's noise does not change; growth by the square would be sixteenfold.
    private static long Allocated(int count)
    {
        var notes = string.Concat(Enumerable.Range(0, count).Select(i =>
            $"<attributes><divisions>{10_007 + (2 * i)}</divisions></attributes><note><pitch><step>C</step><octave>3</octave></pitch><duration>1</duration><notations><slur type=\"start\" number=\"{i}\"/></notations></note>"));
        var file = Wrap($"<measure>{notes}</measure>");
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.True(Read(file).Succeeded);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    [Fact]
    public void Damaged_bytes_never_escape_as_exceptions() => Gen.Select(Gen.Int[0, 300], Gen.Int[0, int.MaxValue]).Sample((seed, damage) =>
    {
        var random = new Random(damage);
        var bytes = Written(InventedScores.From(seed));
        if (random.Next(3) == 0) bytes = Mxl(Encoding.UTF8.GetString(bytes));
        if (random.Next(2) == 0) bytes = bytes[..random.Next(bytes.Length)];
        for (var i = random.Next(1, 8); i > 0 && bytes.Length > 0; i--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
        Survives(bytes);
    }, iter: 1500);

    [Fact]
    public void Damaged_elements_never_escape_as_exceptions() => Gen.Select(Gen.Int[0, 300], Gen.Int[0, int.MaxValue]).Sample((seed, damage) =>
    {
        var random = new Random(damage);
        var document = System.Xml.Linq.XDocument.Parse(Encoding.UTF8.GetString(Written(InventedScores.From(seed))));
        for (var i = random.Next(1, 30); i > 0; i--) Damage(document, random);
        Survives(Utf8(document.ToString()));
    }, iter: 1500);

    private static readonly string[] Absurd = ["", "-1", "0", "1e9", "99999999999", "0.333", "NaN", "x", "C", "start", "7", "2147483647", "yes", "3+2"];

    private static void Damage(System.Xml.Linq.XDocument document, Random random)
    {
        var all = document.Root!.Descendants().ToList();
        if (all.Count < 2) return;
        var victim = all[random.Next(all.Count)];
        switch (random.Next(6))
        {
            case 0: victim.Remove(); break;
            case 1: victim.AddAfterSelf(new System.Xml.Linq.XElement(victim)); break;
            case 2: victim.Name = all[random.Next(all.Count)].Name; break;
            case 3 when !victim.HasElements: victim.Value = Absurd[random.Next(Absurd.Length)]; break;
            case 4 when victim.FirstAttribute is { } a: a.Value = Absurd[random.Next(Absurd.Length)]; break;
            default:
                var other = all[random.Next(all.Count)];
                if (!victim.AncestorsAndSelf().Contains(other) && !other.Ancestors().Contains(victim)) other.AddBeforeSelf(new System.Xml.Linq.XElement(victim));
                break;
        }
    }

    private static void Survives(byte[] bytes)
    {
        var outcome = Read(bytes);
        if (!outcome.Succeeded)
        {
            Assert.Contains(outcome.Problems, p => p.Severity == Severity.Error && p.What.Length > 0 && p.Where.Length > 0);
            return;
        }

        Assert.DoesNotContain(outcome.Problems, p => p.Severity == Severity.Error);
        Whole.Check(outcome.Value);
        var chosen = PartChooser.Choose(outcome.Value, Catalogue.Default);
        if (chosen.Succeeded) Unfolder.Play(chosen.Value, "x");
        Assert.True(Read(Written(outcome.Value)).Succeeded);
    }

    private static Problem Refused(byte[] bytes, string said, ReadLimits? limits = null)
    {
        var outcome = Read(bytes, limits);
        Assert.False(outcome.Succeeded);
        return Assert.Single(outcome.Problems, p => p.Severity == Severity.Error && p.What.Contains(said, StringComparison.Ordinal));
    }
}
