using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.MusicXml;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;
using Seamwright.Engraving.Layout;
using Seamwright.Film;
using Seamwright.Film.Score;
using Seamwright.Tests.Cli;
using Seamwright.Tests.Engraving;

namespace Seamwright.Tests.Film;

/// <summary>Planned parts, and systems for them without an engraver: four bars to a system, heads in proportion to time.</summary>
internal static class FilmParts
{
    public const int BarsToSystem = 4, BarWidth = 3000;
    public static readonly Seconds LeadIn = new(2);

    public static PlannedSheet Planned(string shorthand) => Planned(TestParts.Header(PartBuilder.Parse("Trombone", shorthand)));

    public static PlannedSheet Melody(string name)
    {
        using var file = File.OpenRead(CommandLine.Melody(name));
        return Planned(MusicXmlReader.Read(file, name).Value);
    }

    public static ImmutableArray<SystemPlaces> Places(Part part) =>
        [.. part.Bars.Chunk(BarsToSystem).Select(bars => Place(bars))];

    public static FilmScore Score(PlannedSheet sheet, params SoundingPassage[] passages) =>
        FilmScore.Compose(sheet.Part, Places(sheet.Part), passages.Length > 0 ? [.. passages] : [new(sheet.Plan, LeadIn)])!;

    /// <summary>The tune once through, without click or count.</summary>
    public static FilmSound Sound(PlannedSheet sheet) =>
        FilmSound.Of(PlayAlongMaker.LayOut([sheet.Plan], new PlayAlongSettings { Turns = Turns.ExampleOnly, Click = ClickUse.None, Chords = false }).Value);

    /// <summary>System and place of a note's head.</summary>
    public static (int System, double X) Head(Part part, string id)
    {
        var places = Places(part);
        var system = Enumerable.Range(0, places.Length).First(i => places[i].Heads.ContainsKey(id));
        return (system, places[system].Heads[id].CentreX);
    }

    private static PlannedSheet Planned(Score score) =>
        PlannedSheet.Make(score, Catalogue.Default, null, null, null, new PlanSettings(), []).Value;

    private static SystemPlaces Place(Bar[] bars) => new()
    {
        Ink = new(0, 0, bars.Length * BarWidth, 2500),
        Staff = new(0, 1000, bars.Length * BarWidth, 1700),
        Bars = [.. bars.Select((b, i) => new BarPlace(b.Index, i * BarWidth, (i + 1) * BarWidth))],
        Heads = bars.SelectMany((b, i) => b.Events.OfType<Note>().Select(n => (n.Id, X: XOf(b, n, i)))).ToImmutableDictionary(n => n.Id, n => new Box(n.X - 100, 1300, n.X + 100, 1450)),
        Marks = ImmutableDictionary<string, Box>.Empty,
    };

    private static double XOf(Bar bar, Note note, int place) =>
        (place * BarWidth) + 500 + ((BarWidth - 600) * note.Offset.ToDouble() / bar.Length.ToDouble()) - (note.Grace == Grace.None ? 0 : 150);
}
