using System.Collections.Immutable;
using Seamwright.Core.Scores;

namespace Seamwright.Tests.Engraving;

/// <summary>Invented parts, each difficult to engrave in its own way.</summary>
internal static class TestParts
{
    public static ImmutableDictionary<string, string> Texts { get; } = new Dictionary<string, string>
    {
        ["song"] = """
            meter=3/4 key=-2 pickup tempo=Andante_cantabile@76 dyn=mp Bb3:8( C4:8 | D4:4 F4:4. Eb4:8) | D4:2' Bb3:4 | C4:4( Eb4:4 D4:8 C4:8) | Bb3:2.* |
            cres A3:4( G3:4 F#3:4 | G3:4 Bb3:4 D4:4 | end dyn=f C4:2) Bb3:8 A3:8 | Bb3:2. | dim G3:4( A3:4 Bb3:4 | C4:4 Bb3:4 A3:4 | G3:4 F3:4 Eb3:4 | end dyn=p F3:2.) |
            words=dolce D4:4.( C4:8 Bb3:4 | A3:4 Bb3:4 C4:4 | D4:4 Eb4:4 F4:4 | Bb3:2) r:4 |
            """,
        ["repeats"] = """
            meter=4/4 key=1 tempo=Moderato@96 [: segno dyn=f G3:4_ A3:4_ B3:4_ C4:4_ | D4:2( C4:4 B3:4) | 1[ A3:4 B3:4 C4:4 A3:4 | G3:1 ]1 :] | 2[ A3:4 G3:4 F#3:4 D3:4 | G3:1 ]2 fine |
            reh=A [: E3:4( F#3:4 G3:4 A3:4) | B3:2 G3:2 :3] | coda C4:4 B3:4 A3:4 G3:4 | D3:2 tocoda F#3:2 | reh=Coda G3:4 B3:4 D4:2 | G3:1 ds |
            """,
        ["tenor-clef"] = """
            clef=Tenor meter=2/2 key=-4 tempo=Allegro_ma_non_troppo@72@2 dyn=mf F3:4 Ab3:4 C4:4 F4:4 | Ab4:2( G4:4 F4:4) | Eb4:4( Db4:4 C4:4 Bb3:4 | Ab3:1) | clef=Bass Bb2:4 C3:4 Db3:4 Eb3:4 |
            F3:2 Ab2:2 | Eb2:2 E2:2 | F2:1 | clef=Tenor C4:4. Db4:8 Eb4:4 F4:4 | G4:4 Ab4:4 Bb4:4 C5:4 | Db5:2. C5:4 | F4:1 |
            """,
        ["low"] = """
            meter=4/4 key=-3 tempo=Largo@50 dyn=pp Bb1:2 A1:2 | Ab1:2 G1:2 | F#1:2 F1:2 | E1:1 | Eb2:4 D2:4 C2:4 Bb1:4 | C2:4( Eb2:4 G2:4 C3:4) | Db2:2 C2:2 | B1:1~ | B1:2 C2:2 |
            Eb2:8 F2:8 G2:8 Ab2:8 Bb2:4 Eb2:4 | F2:2> Db2:2 | C2:1 |
            """,
        ["high"] = """
            clef=Alto meter=6/8 key=2 tempo=Con_moto@63@4. dyn=mp D4:4( E4:8 F#4:4 G4:8 | A4:4. D5:4.) | C#5:8( B4:8 A4:8 G4:8 F#4:8 E4:8) | D4:4. r:4. | F#4:8( A4:8 D5:8 F5:4 E5:8 | D5:4.~ D5:4 C#5:8) |
            B4:8! A4:8! G4:8! F#4:8! E4:8! D4:8! | E4:4. A3:4. | D5:4.( E5:4. | F5:2.) | E5:4 D5:8 C#5:4 B4:8 | A4:2. |
            """,
        ["accidentals"] = """
            meter=4/4 key=3 tempo=@88 C3:16 C#3:16 D3:16 Eb3:16 E3:16 F3:16 F#3:16 G3:16 G#3:16 A3:16 Bb3:16 B3:16 C4:16 Db4:16 Cb4:16 Bb3:16 |
            F#3:4 F3:4 F#3:4 F#2:4 | F3:4~ F3:4 G#3:4 Ab3:4 | Fb3:4 Gbb3:4 F##3:4 G#3:4c | Bb3:4( A#3:4 B3:4 Bb3:4) | A3:2 C#4:2 |
            Db3:8( D3:8 Eb3:8 E3:8 F3:8 Gb3:8 G3:8 Ab3:8) | A3:1 |
            """,
        ["tuplets"] = """
            meter=4/4 key=0 tempo=Vivo@120 3[ C3:8( D3:8 E3:8) ]3 3[ F3:8 G3:8 A3:8 ]3 G3:4 F3:8. E3:16 | 3[ D3:4 E3:4 F3:4 ]3 G3:2 | E3:8g F3:8g G3:2 A3:16g C4:4 B3:8G Bb3:4 |
            C4:16( B3:16 A3:16 G3:16 A3:16 G3:16 F3:16 E3:16 D3:4) r:4 | 3[ r:8 G3:8 G3:8 ]3 G3:8^ A3:8^ r:8 B3:8 C4:4 | meter=5/8 C4:8 B3:8 A3:8 G3:8 F3:8 | meter=7/8 E3:8 F3:8 G3:8 A3:8 B3:8 C4:8 D4:8 |
            meter=9/8 C4:4 B3:8 A3:8 G3:8 F3:8 E3:4. | meter=2/4 D3:8. E3:16 F3:8 G3:8 | C3:32 D3:32 E3:32 F3:32 G3:8 C3:4 |
            """,
        ["rests"] = """
            meter=4/4 key=-1 tempo=Marcia@104 R | R | R | R | dyn=ff F3:4^ r:4 C4:4^ r:4 | R | R | reh=B tempo=poco_meno@88 words=cantabile dyn=p A3:2( Bb3:4 C4:4 | D4:4 C4:4 Bb3:4 A3:4 |
            G3:2.) r:4 | R | R | R | meter=3/4 key=4 R | R | E3:4 G#3:4 B3:4 | E4:2.* | key=0 C4:4 G3:4 E3:4 | C3:2. |
            """,
        ["dynamics"] = """
            meter=4/4 key=-2 tempo=Adagio_espressivo_e_molto_sostenuto@56 dyn=pp cres Bb2:4( C3:4 D3:4 Eb3:4 | F3:4 G3:4 A3:4 end dyn=sfz Bb3:4) | dyn=fp cres C4:2( D4:2 | end dim Eb4:4 D4:4 C4:4 Bb3:4) | end dyn=mp A3:4 words=rit. G3:4 F3:4 Eb3:4 |
            tempo=a_tempo@56 dyn=mf D3:4( F3:4 Bb3:4 D4:4) | dim F4:2.( Eb4:4 | D4:1) | end dyn=ppp words=morendo_al_niente Bb3:1* | F2:4 D2:4 Bb1:4 F2:4 | Bb2:1 |
            """,
        ["slides"] = """
            meter=4/4 key=0 tempo=Slow_drag@66 Bb3:2> E3:2 | F3:2> B3:2 | G3:4( A3:4) B3:4> D4:4 | C4:4 r:4 C3:4> F#2:4 | dyn=f E4:2> Bb4:2 | A4:1 |
            """,
        ["one-note"] = "tempo=@60 Bb3:1* |",
        ["busy"] = """
            meter=12/8 key=-5 tempo=Lento@50@4. dyn=p Db3:8( Eb3:8 F3:8 Gb3:8 Ab3:8 Bb3:8 C4:8 Db4:8 Eb4:8 F4:8 Gb4:8 Ab4:8) | Ab4:8( Gb4:8 F4:8 Eb4:8 Db4:8 C4:8 Bb3:8 Ab3:8 Gb3:8 F3:8 Eb3:8 Db3:8) |
            F3:8( Ab3:8 Db4:8 F4:4. Eb4:8 Db4:8 C4:8 Db4:4.) | meter=4/4 Db3:16( Eb3:16 F3:16 Gb3:16 Ab3:16 Bb3:16 C4:16 Db4:16 Eb4:16 Db4:16 C4:16 Bb3:16 Ab3:16 Gb3:16 F3:16 Eb3:16) | Db3:1 |
            """,
    }.ToImmutableDictionary();

    public static Part Named(string name) => PartBuilder.Parse("Trombone", Texts[name]);

    /// <summary>A chromatic study of any length.</summary>
    public static Part Long(int bars)
    {
        var pitches = new[] { "Bb2", "C3", "D3", "Eb3", "F3", "G3", "A3", "Bb3", "C4", "D4", "C4", "A3", "F3", "Eb3" };
        var text = string.Concat(Enumerable.Range(0, bars).Select(b => string.Join(' ', Enumerable.Range(0, 4).Select(i => $"{pitches[((b * 4) + i) % pitches.Length]}:4{(i == 0 ? "(" : i == 3 ? ")" : "")}")) + " | "));
        return PartBuilder.Parse("Trombone", "key=-2 tempo=Andante@80 " + text);
    }

    public static Score Header(Part part, string title = "Evening by the Weir", string subtitle = "A study in joining", string composer = "Invented for the tests") =>
        new() { Title = title, Subtitle = subtitle, Composer = composer, Parts = [part] };
}
