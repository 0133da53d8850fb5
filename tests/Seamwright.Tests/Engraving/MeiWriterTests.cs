using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;
using Seamwright.Engraving;
using Seamwright.Engraving.Guidance;
using Seamwright.Engraving.Notation;

namespace Seamwright.Tests.Engraving;

public class MeiWriterTests
{
    private static readonly XNamespace Ns = "http://www.music-encoding.org/ns/mei";

    [Theory]
    [InlineData("plain", "meter=3/4 key=-1 pickup tempo=Andante@72 dyn=mp F3:8( G3:8 | A3:4 Bb3:4) C4:4' | cres D4:2~ D4:8 end C4:8 | dyn=f F3:2.* |")]
    [InlineData("road", "[: segno G3:1 | 1[ A3:1 ]1 :] | 2[ B3:1 ]2 tocoda | reh=B words=dolce C4:1 fine dbl | coda R | R | D3:1 ds |")]
    [InlineData("rhythm", "3[ C3:8 D3:8 E3:8 ]3 F3:16 G3:16 A3:8 B3:8g C4:4! r:4 | meter=6/8 key=2 clef=Tenor C4:8 D4:8 E4:8 F#4:4.> | clef=Bass C3:2.^ |")]
    public void A_small_part_is_written_as_approved(string name, string text)
    {
        var part = PartBuilder.Parse("Trombone", text);
        Golden.Check(name + ".mei", Write(part).Mei);
    }

    [Fact]
    public void A_guided_part_is_written_as_approved()
    {
        var part = PartBuilder.Parse("Trombone", "Bb3:4( A3:4) G3:4 F3:4 | F2:1 |");
        var guides = PlanGuide.Of(part, TestPlans.For(part), new());
        Golden.Check("guided.mei", MeiWriter.Write(part, new(), guides, _ => 400).Mei);
    }

    [Fact]
    public void Treble_in_b_flat_is_written_a_major_ninth_up_with_two_sharps_more()
    {
        var part = PartBuilder.Parse("Trombone", "key=-2 Bb2:4 C3:4 Eb3:4 F3:4 |");
        var mei = XDocument.Parse(Write(part, new() { Clef = Clef.TrebleBb }).Mei);
        Assert.Equal("0", mei.Descendants(Ns + "keySig").Single().Attribute("sig")!.Value);
        Assert.Equal("G", mei.Descendants(Ns + "clef").Single().Attribute("shape")!.Value);
        Assert.Equal(["c4", "d4", "f4", "g4"], mei.Descendants(Ns + "note").Select(n => n.Attribute("pname")!.Value + n.Attribute("oct")!.Value));
        Assert.Empty(mei.Descendants(Ns + "accid"));
    }

    [Fact]
    public void A_clef_asked_for_replaces_every_clef_of_the_part()
    {
        var part = PartBuilder.Parse("Trombone", "clef=Tenor C4:2 clef=Bass C3:2 | clef=Alto C4:1 |");
        Assert.Equal(3, XDocument.Parse(Write(part).Mei).Descendants(Ns + "clef").Count());
        var one = XDocument.Parse(Write(part, new() { Clef = Clef.Bass }).Mei).Descendants(Ns + "clef").Single();
        Assert.Equal("F", one.Attribute("shape")!.Value);
    }

    [Fact]
    public void A_transposed_part_is_shown_as_its_file_has_it()
    {
        var part = PartBuilder.Parse("Trombone", "clef=Treble Bb2:1 |") with { Transposition = Core.Units.Interval.MajorNinth };
        var note = XDocument.Parse(Write(part).Mei).Descendants(Ns + "note").Single();
        Assert.Equal("c4", note.Attribute("pname")!.Value + note.Attribute("oct")!.Value);
    }

    [Fact]
    public void Slurs_and_glissandi_that_point_at_no_note_or_backward_are_left_out()
    {
        var part = PartBuilder.Parse("Trombone", "C3:4 D3:4 E3:4 F3:4 |");
        var broken = part with { Slurs = [new("n1-1", "nowhere"), new("n1-3", "n1-1"), new("n1-2", "n1-2")], Glissandi = [new("nowhere", "n1-1")] };
        Assert.DoesNotContain("slur", Write(broken).Mei);
        Assert.DoesNotContain("gliss", Write(broken).Mei);
    }

    [Fact]
    public void Every_id_that_is_pointed_at_exists()
    {
        foreach (var text in TestParts.Texts.Values)
        {
            var mei = XDocument.Parse(Write(PartBuilder.Parse("Trombone", text)).Mei);
            var ids = mei.Descendants().Attributes(XNamespace.Xml + "id").Select(a => "#" + a.Value).ToHashSet();
            Assert.All(mei.Descendants().Attributes().Where(a => a.Name.LocalName is "startid" or "endid"), a => Assert.Contains(a.Value, ids));
        }
    }

    [Fact]
    public void Bars_of_nothing_but_rest_are_printed_as_one_up_to_the_next_sign()
    {
        var mei = XDocument.Parse(Write(PartBuilder.Parse("Trombone", "R | R | R | tempo=meno@60 R | R | C3:1 | R | D3:1 |")).Mei);
        Assert.Equal(["3", "2"], mei.Descendants(Ns + "multiRest").Select(r => r.Attribute("num")!.Value));
        Assert.Single(mei.Descendants(Ns + "mRest"));
    }

    private static NotationText Write(Part part, SheetOptions? options = null) =>
        MeiWriter.Write(part, options ?? new(), ImmutableDictionary<string, NoteGuide>.Empty, _ => 0);
}
