using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;
using Seamwright.Studio.Features.People;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Practice;

/// <summary>Makes what a page asks for, for the player or the horn and level it names.</summary>
internal sealed class PracticeMaker(PlannedPieces planned, Horns horns, Players players)
{
    /// <summary>The exercises, or why there are none.</summary>
    public Outcome<ExerciseSet> Make(PracticeWish wish)
    {
        var pupil = PupilOf(wish);
        var order = wish.Order(TuneOf(wish, pupil.Succeeded ? pupil.Value.Instrument : null));
        return pupil.Succeeded && order.Succeeded ? ExerciseMaker.Make(order.Value, pupil.Value) : Outcome<ExerciseSet>.Failed([.. pupil.Problems, .. order.Problems]);
    }

    /// <summary>For whom: of nobody in particular a piece tells the arm and the way of tonguing.</summary>
    public Outcome<Pupil> PupilOf(PracticeWish wish)
    {
        if (players.Find(wish.Player) is { } player) return PlayersFeature.PupilOf(player.Card, horns);
        if (wish.Level is < Levels.Lowest or > Levels.Highest) return Outcome<Pupil>.Failed("level", "there is no such level.", $"Levels go from {Levels.Lowest}, a first year, to {Levels.Highest}, the profession.");
        return Outcome<Pupil>.Of(Pupil.Of(horns.OrUsual(wish.Instrument), PieceOf(wish)?.Settings.Plan(), wish.Level) with { Clef = ClefFor(wish) });
    }

    // That of the piece it is drawn from, or the one in which the reader names notes; the horn's own otherwise.
    private Clef? ClefFor(PracticeWish wish) => PieceOf(wish) is { } piece ? piece.Clef
        : NoteNaming.Current.IsBFlatTreble ? Clef.TrebleBb : null;

    /// <summary>How a kept exercise is played: an exercise prescribes its own settings, so nothing of the planner's wishes is needed but the player's.</summary>
    public PieceSettings SettingsOf(PracticeWish wish) => players.Find(wish.Player) is { } player
        ? new PieceSettings().For(player)
        : new PieceSettings { Instrument = horns.OrUsual(wish.Instrument).Id };

    /// <summary>For whom, by name; empty for nobody in particular.</summary>
    public string NameOf(PracticeWish wish) => players.Find(wish.Player)?.Name ?? "";

    /// <summary>The order in words: <c>three passes, E♭, harmonic minor, high, for Mira</c>.</summary>
    public string Words(PracticeWish wish)
    {
        var kind = ExerciseMaker.Find(wish.Kind);
        bool Uses(string member) => kind?.Uses.Contains(member) == true;
        IEnumerable<string> words =
        [
            wish.Kind.Replace('-', ' '),
            Uses(nameof(ExerciseOrder.Keys)) && wish.Key.Length > 0 ? (wish.Key == "all" ? "all keys" : KeyChoices.Words(wish.Key)) : "",
            Uses(nameof(ExerciseOrder.Scale)) && Scale.Find(wish.Scale) is { } scale ? scale.Words : "",
            Uses(nameof(ExerciseOrder.Register)) && wish.Register.Length > 0 ? (wish.Register == "all" ? "all registers" : $"{wish.Register} register") : "",
            .. WishDetail.All.Where(d => kind is not null && d.IsFor(kind) && wish.Details.ContainsKey(d.Name)).Select(d => d.Said(wish.Details[d.Name], horns.OrUsual(wish.Instrument))),
            Uses(nameof(ExerciseOrder.Tune)) && PieceOf(wish) is { } piece ? piece.Stored.Title : "",
            NameOf(wish) is { Length: > 0 } name ? $"for {name}" : $"{horns.OrUsual(wish.Instrument).Name}, level {wish.Level}",
        ];
        return string.Join(", ", words.Where(w => w.Length > 0));
    }

    private PlannedPiece? PieceOf(PracticeWish wish) => wish.Piece > 0 && planned.Of(wish.Piece) is { Succeeded: true } piece ? piece.Value : null;

    // Positions fixed in the piece are fixed in what is drawn from it, as long as it is for the same horn.
    private Tune? TuneOf(PracticeWish wish, Instrument? horn)
    {
        if (PieceOf(wish) is not { } piece) return null;
        if (horn is null || horn.Id != piece.Plan.Instrument.Id) return new(piece.Stored.Title, piece.Part);
        var fixedOn = piece.Settings.Locks.Where(l => l.Key < piece.Plan.Notes.Length).GroupBy(l => piece.Plan.Notes[l.Key].Note.NoteIds[0]).ToDictionary(g => g.Key, g => g.First().Value);
        return new(piece.Stored.Title, piece.Part.WithSettings(fixedOn));
    }
}
