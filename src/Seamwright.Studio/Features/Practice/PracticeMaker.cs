using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Studio.Features.Piece;
using Seamwright.Studio.Features.People;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Practice;

/// <summary>Makes what a page asks for, for the player or the horn and level it names.</summary>
internal sealed class PracticeMaker(PlannedPieces planned, Horns horns, Players players)
{
    /// <summary>The exercises, or why there are none.</summary>
    public Outcome<ExerciseSet> Make(PracticeWish wish)
    {
        var pupil = PupilOf(wish);
        var order = wish.Order(TuneOf(wish));
        return pupil.Succeeded && order.Succeeded ? ExerciseMaker.Make(order.Value, pupil.Value) : Outcome<ExerciseSet>.Failed([.. pupil.Problems, .. order.Problems]);
    }

    /// <summary>For whom.</summary>
    public Outcome<Pupil> PupilOf(PracticeWish wish) => players.Find(wish.Player) is { } player
        ? PlayersFeature.PupilOf(player.Card, horns)
        : Outcome<Pupil>.Of(Pupil.Of(horns.OrUsual(wish.Instrument), level: wish.Level));

    /// <summary>How a kept exercise is played: an exercise prescribes its own settings, so nothing of the planner's wishes is needed but the player's.</summary>
    public PieceSettings SettingsOf(PracticeWish wish) => players.Find(wish.Player) is { } player
        ? new PieceSettings().For(player)
        : new PieceSettings { Instrument = horns.OrUsual(wish.Instrument).Id };

    private Tune? TuneOf(PracticeWish wish) => wish.Piece > 0 && planned.Of(wish.Piece) is { Succeeded: true } piece ? new Tune(piece.Value.Stored.Title, piece.Value.Part) : null;
}
