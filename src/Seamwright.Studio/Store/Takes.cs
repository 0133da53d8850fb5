using System.Globalization;
using Dapper;

namespace Seamwright.Studio.Store;

/// <summary>A recording of a piece.</summary>
public sealed record Take
{
    public long Id { get; init; }

    public long Piece { get; init; }

    /// <summary>How the piece was planned when it was recorded, as JSON.</summary>
    public string Settings { get; init; } = "{}";

    /// <summary>Who plays; null for nobody in particular.</summary>
    public long? Player { get; init; }

    /// <summary>As the teacher calls it; empty for none.</summary>
    public string Name { get; init; } = "";

    /// <summary>Name of its sound file in the folder of recordings.</summary>
    public string File { get; init; } = "";

    /// <summary>Samples a second.</summary>
    public int Rate { get; init; }

    /// <summary>One of <see cref="TakeState"/>.</summary>
    public string State { get; init; } = TakeState.Whole;

    public double Seconds { get; init; }

    /// <summary>In <see cref="ToMend"/>: less than half of the piece was recognised.</summary>
    public const int NotRecognised = -1;

    /// <summary>Changes with something to mend; null where nothing was told yet, <see cref="NotRecognised"/> where nothing can be said.</summary>
    public int? ToMend { get; init; }

    /// <summary>What was heard in a sentence or two; empty where nothing was told yet.</summary>
    public string Overall { get; init; } = "";

    /// <summary>ISO 8601, UTC.</summary>
    public string Begun { get; init; } = "";

    /// <summary>When it was begun, on this computer's clock.</summary>
    public DateTimeOffset BegunAt => DateTimeOffset.Parse(Begun, CultureInfo.InvariantCulture).ToLocalTime();
}

/// <summary>How far a recording has come.</summary>
public static class TakeState
{
    public const string Recording = "recording";

    /// <summary>The page or the server went away while it ran; all that had come is there.</summary>
    public const string Interrupted = "interrupted";

    public const string Whole = "whole";
}

/// <summary>The recordings' cards; their sounds are <see cref="TakeFiles"/>.</summary>
internal sealed class Takes(Database database, TimeProvider clock) : Shelf("takes", database, clock)
{
    private const string Columns = "id, piece, settings, player, name, file, rate, state, seconds, to_mend, overall, begun";

    /// <summary>Newest first.</summary>
    /// <param name="piece">Of one piece; null for all.</param>
    /// <param name="player">Of one player; null for all.</param>
    public IReadOnlyList<Take> List(long? piece = null, long? player = null)
    {
        using var db = Open();
        return [.. db.Query<Take>($"select {Columns} from takes where removed is null and (@piece is null or piece = @piece) and (@player is null or player = @player) order by begun desc, id desc", new { piece, player })];
    }

    /// <summary>All that was put away, or all of a player's, put away or not.</summary>
    /// <param name="player">Null for what was put away.</param>
    public IReadOnlyList<Take> ToDelete(long? player)
    {
        using var db = Open();
        return [.. db.Query<Take>($"select {Columns} from takes where (@player is null and removed is not null) or player = @player", new { player })];
    }

    /// <summary>Null where there is none or it was removed.</summary>
    public Take? Find(long id)
    {
        using var db = Open();
        return db.QuerySingleOrDefault<Take>($"select {Columns} from takes where id = @id and removed is null", new { id });
    }

    /// <summary>Begins one.</summary>
    /// <param name="piece">What is played.</param>
    /// <param name="settings">How it is planned.</param>
    /// <param name="rate">Samples a second; 0 where the file tells.</param>
    /// <param name="ending">Of the sound file, with its dot.</param>
    /// <param name="player">Who plays; null for nobody in particular.</param>
    /// <param name="name">Of a file that was brought; empty for a recording.</param>
    public Take Begin(long piece, string settings, int rate, string ending, long? player, string name = "")
    {
        using var db = Open();
        var id = db.ExecuteScalar<long>(
            "insert into takes (piece, settings, player, rate, state, name, begun) values (@piece, @settings, @player, @rate, @state, @name, @begun) returning id",
            new { piece, settings, player, rate, state = TakeState.Recording, name, begun = Now() });
        db.Execute("update takes set file = @file where id = @id", new { id, file = $"take-{id}{ending}" });
        return Find(id)!;
    }

    public void End(long id, string state, double seconds) => Run("update takes set state = @state, seconds = @seconds where id = @id", new { id, state, seconds });

    /// <summary>Says how long it is so far.</summary>
    public void Came(long id, double seconds) => Run("update takes set seconds = @seconds where id = @id", new { id, seconds });

    /// <summary>Keeps what was told of it.</summary>
    public void Told(long id, int toMend, string overall) => Run("update takes set to_mend = @toMend, overall = @overall where id = @id", new { id, toMend, overall });

    public void Rename(long id, string name) => Run("update takes set name = @name where id = @id", new { id, name });

    /// <summary>Says who played it.</summary>
    public void PlayedBy(long id, long? player) => Run("update takes set player = @player where id = @id", new { id, player });

    /// <summary>Deletes a card for good.</summary>
    public void Delete(long id) => DeleteForGood(id);
}
