using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Units;

/// <summary>Names of the notes: in German B is B-flat and H is B natural; the Latin ones are solmisation
/// with a fixed do. Both common practice, from memory.</summary>
public class NoteNamingTests
{
    [Theory]
    [InlineData("Bb3", "B3", "Si♭3", "B♭3")]
    [InlineData("B3", "H3", "Si3", "B3")]
    [InlineData("Eb2", "Es2", "Mi♭2", "E♭2")]
    [InlineData("Ab4", "As4", "La♭4", "A♭4")]
    [InlineData("F#4", "Fis4", "Fa♯4", "F♯4")]
    [InlineData("Cb4", "Ces4", "Do♭4", "C♭4")]
    [InlineData("Bbb2", "Heses2", "Si♭♭2", "B♭♭2")]
    [InlineData("Ebb2", "Eses2", "Mi♭♭2", "E♭♭2")]
    [InlineData("G##2", "Gisis2", "Sol♯♯2", "G♯♯2")]
    [InlineData("B#2", "His2", "Si♯2", "B♯2")]
    public void A_note_has_its_name_in_every_language(string note, string german, string latin, string english)
    {
        var pitch = Pitch.Parse(note);
        Assert.Equal(german, new NoteNaming(NoteLanguage.German).Of(pitch));
        Assert.Equal(latin, new NoteNaming(NoteLanguage.Latin).Of(pitch));
        Assert.Equal(english, NoteNaming.English.Of(pitch));
    }

    [Fact]
    public void A_b_flat_treble_part_writes_a_major_ninth_higher()
    {
        var naming = new NoteNaming(NoteLanguage.English, IsBFlatTreble: true);
        Assert.Equal("C4", naming.Of(Pitch.Parse("Bb2")));
        Assert.Equal("F♯5", naming.Of(Pitch.Parse("E4")));
        Assert.Equal("G", naming.Of(Pitch.Parse("F3").Name));
    }

    [Fact]
    public async Task The_naming_in_force_stays_with_its_own_work()
    {
        Task German() => Task.Run(() =>
        {
            NoteNaming.Current = new(NoteLanguage.German);
            Assert.Equal("B3", Pitch.Parse("Bb3").ToDisplay());
            Assert.Equal("H minor", new KeySignature(2, KeyMode.Minor).ToDisplay());
        });
        await German();
        Assert.Equal("B♭3", Pitch.Parse("Bb3").ToDisplay());
        Assert.Equal("Bb3", Pitch.Parse("Bb3").ToString());
    }

    [Fact]
    public void No_two_notes_share_a_name_in_any_language()
    {
        foreach (var language in Enum.GetValues<NoteLanguage>())
        {
            var naming = new NoteNaming(language);
            var names = Enumerable.Range(-15, 35).Select(f => naming.Of(PitchName.OnFifths(f))).ToList();
            Assert.Equal(names.Count, names.Distinct().Count());
        }
    }
}
