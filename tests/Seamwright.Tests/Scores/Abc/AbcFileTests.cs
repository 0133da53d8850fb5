using System.Text;
using CsCheck;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.Abc;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>Whole files: hostile ones, and what is left of a tune after a way through another format.</summary>
public class AbcFileTests
{
    // Few bars: what a fuzzed file may cost is bounded elsewhere.
    private static readonly ReadLimits Small = ReadLimits.Default with { MostBars = 200 };

    private static readonly string[] Pieces =
    [
        "C", "D,", "e'", "^F", "_B2", "=c", "z", "z2", "x", "Z", "Z2", "A3/2", "G/", "E//", "(3", "(2", "(5:4:6", "|", "||", "|]", "|:", ":|", "::", "|1", ":|2", "[1", "[2,3",
        "(", ")", "-", ">", "<", ">>", "{g}", "{/ab}", "[CEG]", "[C2E2]3", "\"Am7\"", "\"^slow\"", "\"", "!f!", "!<(!", "!<)!", "!fermata!", "!segno!", "!coda!", "!D.S.!", "!fine!", "!",
        ".", "~", "H", "T", "u", "&", "&&", "y", "`", "$", "\\", "[K:Gm]", "[M:3/4]", "[L:1/16]", "[Q:1/4=90]", "[V:2]", "[V:1]", "[P:A]", "[K:D clef=tenor]", "[r:x]", "[K:", "]", "[",
        "\n", "\nw: la-la * _ |\n", "\ns: !p! * \"D7\"\n", "\nV:2 clef=bass transpose=-14\n", "\nK:Ebmix\n", "\nM:none\n", "\nL:1\n", "% x\n", " ", "9", "/", "99999999999", "C7777", "''''''''", "é", "\0",
    ];

    private static readonly string[] Fields =
        ["M:6/8", "M:4/4", "M:C|", "M:x", "L:1/8", "L:1/4", "L:1/7", "Q:1/4=100", "Q:9999", "T:A tune", "C:Trad.", "V:1 name=\"One\" clef=treble-8", "V:2 middle=d clef=bass", "U:T=!trill!", "P:AB", "m:~G3=GAG", "%%propagate-accidentals octave", "I:linebreak !", "R:reel", "+:more"];

    private static readonly string[] Keys = ["C", "Bb", "F#m", "D Phr ^f", "HP", "none", "G clef=bass", "C transpose=-2", "clef=tenor octave=-1", "X", "exp", ""];

    private static readonly Gen<string> Tune = Gen.Select(Gen.Int[0, Fields.Length - 1].Select(i => Fields[i]).Array[0, 6], Gen.Int[0, Keys.Length - 1].Select(i => Keys[i]), Gen.Int[0, Pieces.Length - 1].Select(i => Pieces[i]).Array[0, 120])
        .Select((fields, key, music) => $"X:1\n{string.Join('\n', fields)}\nK:{key}\n{string.Join(' ', music)}|\n");

    [Fact]
    public void No_file_ever_escapes_as_an_exception() => Tune.Sample(Survives, iter: 2000);

    [Fact]
    public void Damaged_bytes_never_escape_as_exceptions() => Gen.Select(Tune, Gen.Int[0, int.MaxValue]).Sample((tune, damage) =>
    {
        var random = new Random(damage);
        var bytes = Encoding.UTF8.GetBytes(tune);
        for (var i = random.Next(1, 12); i > 0; i--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
        Survives(bytes);
    }, iter: 1500);

    // With a meter: that there is none is nothing a part can hold, nor that a transposition changes; cut quintuplets
    // leave crumbs that no shape holds. One voice: others share the road of a longer one.
    [Fact]
    public void What_is_read_is_the_same_after_a_way_through_MusicXml() => Tune.Sample(tune =>
    {
        if (Tunes.Read(tune.Replace("X:1\n", "X:1\nM:4/4\n", StringComparison.Ordinal).Replace("M:none", "M:5/8", StringComparison.Ordinal).Replace(" transpose=-14", "", StringComparison.Ordinal).Replace("(5:4:6", "(3:2:6", StringComparison.Ordinal)) is not { Succeeded: true, Value: { Parts.Length: 1 } score }) return;
        Assert.Equal(Dump.Of(Printed(score)), Dump.Of(Printed(Files.Read(Files.Written(score)).Value)));
    }, iter: 1500);

    [Fact]
    public void Size_bars_notes_and_voices_have_limits()
    {
        Refused(new string('c', 3000), "is larger than", ReadLimits.Default with { MostBytes = 1024 });
        Refused("K:C\n" + string.Concat(Enumerable.Repeat("c8|", 30)), "more than 20 bars", ReadLimits.Default with { MostBars = 20 });
        Refused("K:C\nZ30|", "more than 20 bars", ReadLimits.Default with { MostBars = 20 });
        Refused("K:C\n" + new string('c', 30), "more than 20 notes", ReadLimits.Default with { MostNotes = 20 });
        Refused("K:C\n" + string.Concat(Enumerable.Range(0, 30).Select(i => $"[V:{i}]c|")), "more than 20 voices", ReadLimits.Default with { MostParts = 20 });
        Refused("K:C\n[V:1]Z15|\n[V:2]Z15|", "in all its voices", ReadLimits.Default with { MostBarsInAll = 20 });
        Refused("K:C\nc|", "most notes is 0", ReadLimits.Default with { MostNotes = 0 });
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData(" \n\n", "empty")]
    [InlineData("X:1\nT:Nothing\nK:C\n", "holds no notes")]
    [InlineData("X:1\nK:C\n\nCDEF|\n", "holds no notes")]
    public void What_holds_no_tune_gives_one_clear_error(string text, string said) => Refused(text, said, null);

    [Fact]
    public void Letters_outside_UTF8_are_read_as_Latin1() => Assert.Equal("Café", AbcReader.Read(new MemoryStream(Encoding.Latin1.GetBytes("X:1\nT:Café\nK:C\nc|\n")), "x").Value.Title);

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void Line_ends_of_every_system_are_read(string end) => Assert.Equal("C4 D4", Tunes.Pitches(Tunes.Read($"X:1{end}K:C{end}C|{end}D|{end}").Value.Parts[0]));

    [Fact]
    public void Reading_grows_no_faster_than_the_file() => Assert.InRange(Allocated(8_000) / (double)Allocated(2_000), 3, 6);

    // Bytes, which the machine's noise does not change. Ever open slurs, ever new lengths, chords in one bar and problems at each note.
    private static long Allocated(int count)
    {
        var text = "X:1\nM:4/4\nL:1/512\nK:C\n" + string.Concat(Enumerable.Range(0, count).Select(i => $"(\"C\"!p![CE]{1 + (i % 7)}/{1 + (i % 9)} "));
        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.True(Tunes.Read(text).Succeeded);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    // Ids are made anew for those that came from no file, and the format's name of the one voice differs.
    private static Score Printed(Score score) => score with { Parts = [.. score.Parts.Select(p => p with { Id = "P1", Voice = "1" })] };

    private static void Survives(string text) => Survives(Encoding.UTF8.GetBytes(text));

    private static void Survives(byte[] bytes)
    {
        var outcome = AbcReader.Read(new MemoryStream(bytes), "x.abc", Small);
        if (!outcome.Succeeded)
        {
            Assert.Contains(outcome.Problems, p => p.Severity == Severity.Error && p.What.Length > 0 && p.Where.Length > 0);
            return;
        }

        Assert.DoesNotContain(outcome.Problems, p => p.Severity == Severity.Error);
        Whole.Check(outcome.Value);
        var chosen = PartChooser.Choose(outcome.Value, Catalogue.Default);
        if (chosen.Succeeded) Unfolder.Play(chosen.Value, "x");
        Assert.True(Files.Read(Files.Written(outcome.Value)).Succeeded);
    }

    private static void Refused(string text, string said, ReadLimits? limits)
    {
        var outcome = AbcReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(text)), "x.abc", limits);
        Assert.False(outcome.Succeeded);
        Assert.Single(outcome.Problems, p => p.Severity == Severity.Error && p.What.Contains(said, StringComparison.Ordinal));
    }
}
