using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Engraving;
using Seamwright.Engraving.Engines;

namespace Seamwright.Tests.Engraving;

public class EngraverTests
{
    private const string NoMusic = "<mei xmlns=\"http://www.music-encoding.org/ns/mei\"";

    /// <summary>A rehearsal mark that hangs on a note that is not there ends the engraver's own run time: it is of no use afterwards.</summary>
    private const string Crashing = """
        <mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1"><music><body><mdiv><score><scoreDef><staffGrp>
        <staffDef n="1" lines="5"><clef shape="F" line="4"/></staffDef></staffGrp></scoreDef><section><measure n="1"><staff n="1"><layer n="1">
        <note pname="c" oct="3" dur="1"/></layer></staff><reh startid="#nowhere">A</reh></measure></section></score></mdiv></body></music></mei>
        """;

    [Fact]
    public void Both_engravers_make_the_same_pages()
    {
        if (!V8Engraver.RunsHere) Assert.Skip("The script engine's native library is missing: it is brought for Linux on x64 only.");
        if (!NodeEngraver.IsInstalled()) Assert.Skip("Node.js is missing: install it so that 'node --version' answers.");
        var part = TestParts.Named("tuplets");
        using var node = new NodeEngraver(EngraverFiles.Default);
        using var v8 = new V8Engraver(EngraverFiles.Default);
        Assert.Equal(Pages(v8, part), Pages(node, part));
        Assert.Equal(Pages(v8, TestParts.Named("repeats")), Pages(node, TestParts.Named("repeats")));
    }

    [Fact]
    public void The_engraver_in_process_recovers_from_notation_it_cannot_read()
    {
        if (!V8Engraver.RunsHere) Assert.Skip("The script engine's native library is missing: it is brought for Linux on x64 only.");
        using var engraver = new V8Engraver(EngraverFiles.Default);
        FailsThenWorks(engraver);
    }

    [Fact]
    public void The_worker_recovers_from_notation_it_cannot_read()
    {
        if (!NodeEngraver.IsInstalled()) Assert.Skip("Node.js is missing: install it so that 'node --version' answers.");
        using var engraver = new NodeEngraver(EngraverFiles.Default);
        FailsThenWorks(engraver);
    }

    [Fact]
    public void A_missing_worker_command_says_what_to_install()
    {
        using var engraver = new NodeEngraver(EngraverFiles.Default, "no-such-command");
        var e = Assert.Throws<EngravingException>(() => engraver.Engrave(NoMusic, "{}"));
        Assert.Contains("Node.js 18 or later", e.Message);
    }

    [Fact]
    public void Missing_files_are_named()
    {
        var empty = new EngraverFiles(Path.Combine(AppContext.BaseDirectory, "nothing-here"));
        var e = Assert.Throws<EngravingException>(() => empty.Library);
        Assert.Contains("nothing-here", e.Message);
    }

    [Fact]
    public async Task Several_threads_may_ask_at_once()
    {
        var part = TestParts.Named("one-note");
        var pages = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Run(() => Pages(SharedEngraver.Instance, part))));
        Assert.All(pages, p => Assert.Equal(pages[0], p));
    }

    [Fact]
    public void A_disposed_engraver_refuses()
    {
        var engraver = Engravers.ForThisSystem();
        engraver.Dispose();
        Assert.Throws<ObjectDisposedException>(() => engraver.Engrave(NoMusic, "{}"));
    }

    private static void FailsThenWorks(IEngraver engraver)
    {
        Assert.Throws<EngravingException>(() => engraver.Engrave(Crashing, "{}"));
        Assert.Single(Pages(engraver, TestParts.Named("one-note")));
        Assert.Throws<EngravingException>(() => engraver.Engrave(NoMusic, "{}"));
        Assert.Single(Pages(engraver, TestParts.Named("one-note")));
    }

    private static ImmutableArray<string> Pages(IEngraver engraver, Part part) =>
        new SheetMaker(engraver).Make(TestParts.Header(part), part, TestPlans.For(part)).Value.Pages;
}
