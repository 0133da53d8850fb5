using CsCheck;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Exercises;

public class ClefChoiceTests
{
    [Theory]
    [InlineData("A3", Clef.Bass, 0)] // top line
    [InlineData("B3", Clef.Bass, 0)] // right above it
    [InlineData("C4", Clef.Bass, 1)]
    [InlineData("F4", Clef.Bass, 2)]
    [InlineData("E2", Clef.Bass, 1)]
    [InlineData("F2", Clef.Bass, 0)]
    [InlineData("C4", Clef.Tenor, 0)]
    [InlineData("G4", Clef.Tenor, 1)]
    [InlineData("Bb4", Clef.Tenor, 2)]
    [InlineData("C3", Clef.Tenor, 0)]
    [InlineData("B2", Clef.Tenor, 1)]
    [InlineData("C4", Clef.Alto, 0)]
    [InlineData("Bb2", Clef.TrebleBb, 1)] // written C4
    [InlineData("Bb3", Clef.TrebleBb, 0)] // written C5
    public void Ledger_lines_are_those_of_the_staff(string pitch, Clef clef, int expected) => Assert.Equal(expected, ClefChoice.LedgerLines(Pitch.Parse(pitch), clef));

    [Theory]
    [InlineData("F3", Clef.Bass, Clef.Bass)]
    [InlineData("Bb2", Clef.Bass, Clef.Bass)]
    [InlineData("Bb3", Clef.Bass, Clef.Tenor)]
    [InlineData("Eb3", Clef.Alto, Clef.Alto)]
    [InlineData("Eb2", Clef.Alto, Clef.Bass)]
    public void An_octave_stands_in_the_clef_players_read_it_in(string tonic, Clef usual, Clef expected)
    {
        var notes = Enumerable.Range(0, 8).Select(i => Scale.Find("major")!.NoteAt(Pitch.Parse(tonic), i));
        Assert.Equal([expected], ClefsOf(ClefChoice.Dress(ScalePart.Of(new KeySignature(0), notes), null, usual)));
    }

    [Fact]
    public void A_clef_that_is_wished_stands_throughout()
    {
        var part = ScalePart.Of(new KeySignature(0), Enumerable.Range(40, 30).Select(Pitch.FromMidi));
        Assert.Equal([Clef.Tenor], ClefsOf(ClefChoice.Dress(part, Clef.Tenor, Clef.Bass)));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_clef_changes_right_before_the_high_notes(bool headed)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        for (var i = 0; i < 8; i++) pen.Note(Pitch.Parse("E2"), Beats.Quarter);
        pen.Rest(pen.BarLength);
        if (headed) pen.Section("High");
        for (var i = 0; i < 16; i++) pen.Note(Pitch.Parse("A4"), Beats.Quarter);
        var dressed = ClefChoice.Dress(pen.Finish(), null, Clef.Bass);
        Assert.Equal([0, 3], dressed.Bars.Where(b => !b.Clefs.IsEmpty).Select(b => b.Index));
        Assert.Equal([Clef.Bass, Clef.Tenor], ClefsOf(dressed));
    }

    [Fact]
    public void No_way_of_giving_bars_clefs_is_cheaper_than_the_one_chosen() => Gen.Select(Gen.Int[45, 72].Array[8, 24], Gen.Int[0, 5], Gen.Bool).Sample((midi, heading, alto) =>
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        for (var i = 0; i < midi.Length; i++)
        {
            if (i == heading * 4) pen.Section("There");
            pen.Note(Pitch.FromMidi(midi[i]), i % 5 == 3 ? Beats.Quarter * 2 : Beats.Quarter);
        }

        var part = pen.Finish();
        var usual = alto ? Clef.Alto : Clef.Bass;
        Clef[] read = alto ? [Clef.Alto, Clef.Bass] : [Clef.Bass, Clef.Tenor];
        var chosen = Spread(ClefChoice.Dress(part, null, usual));
        var least = Enumerable.Range(0, 1 << part.Bars.Length).Min(bits => CostOf(part, [.. part.Bars.Select((_, i) => read[(bits >> i) & 1])], usual));
        Assert.Equal(least, CostOf(part, chosen, usual), 9);
    }, iter: 300);

    // The stated cost, counted anew.
    private static double CostOf(Part part, Clef[] clefs, Clef usual)
    {
        var cost = 0.0;
        for (var i = 0; i < clefs.Length; i++)
        {
            foreach (var note in part.Bars[i].Events.OfType<Note>()) cost += Math.Max(0, ClefChoice.LedgerLines(note.Pitch, clefs[i]) - 1) + (clefs[i] == usual ? 0 : 0.6);
            if (i == 0 || clefs[i] == clefs[i - 1]) continue;
            if (part.Bars[i - 1].Events[^1] is Note { TieToNext: true }) return double.PositiveInfinity;
            cost += part.Bars[i].Section.Length > 0 ? 4 : 12;
        }

        return cost;
    }

    private static Clef[] Spread(Part part)
    {
        var now = Clef.Bass;
        return [.. part.Bars.Select(b => now = b.Clefs.IsEmpty ? now : b.Clefs[0].Clef)];
    }

    private static IEnumerable<Clef> ClefsOf(Part part) => part.Bars.SelectMany(b => b.Clefs).Select(c => c.Clef);
}
