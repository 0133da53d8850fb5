using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using Dapper;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Studio.Store;

/// <summary>Somebody who plays.</summary>
/// <param name="Id">In the store.</param>
/// <param name="Name">As the teacher calls them.</param>
/// <param name="Card">What is known of them.</param>
public sealed record StoredPlayer(long Id, string Name, PlayerCard Card);

/// <summary>What a player has and can do.</summary>
public sealed record PlayerCard
{
    private static readonly JsonSerializerOptions Json = new() { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip };

    /// <summary>Ways of tonguing there are.</summary>
    public static ImmutableArray<string> Policies { get; } = ["where-needed", "every-note", "natural-only"];

    /// <summary>Key of an instrument.</summary>
    public string Horn { get; init; } = Catalogue.DefaultId;

    /// <summary>1 to 6; see <see cref="Levels"/>.</summary>
    public int Level { get; init; } = 3;

    /// <summary>Lowest and highest note, such as <c>F2-D4</c>; empty for the level's.</summary>
    public string Range { get; init; } = "";

    /// <summary>1 to 8; null as far as the slide goes.</summary>
    public double? Furthest { get; init; }

    public bool NoValves { get; init; }

    /// <summary>One of <see cref="Policies"/>.</summary>
    public string Policy { get; init; } = "where-needed";

    /// <summary>A preset of the planner's weights.</summary>
    public string Prefer { get; init; } = "natural-first";

    /// <summary>Empty for the part's own.</summary>
    public string Clef { get; init; } = "";

    public string Syllable { get; init; } = "du";

    /// <summary>The teacher's own words.</summary>
    public string Notes { get; init; } = "";

    /// <summary>By whom and how music is planned.</summary>
    public PlanSettings Plan() => new()
    {
        Player = new Player
        {
            FurthestPosition = Furthest,
            ValvesAllowed = !NoValves,
            Policy = Policy switch { "every-note" => TonguePolicy.EveryNote, "natural-only" => TonguePolicy.NaturalSlursOnly, _ => TonguePolicy.WhereItWouldSmear },
        },
        Weights = CostWeights.Presets.GetValueOrDefault(Prefer, CostWeights.NaturalFirst),
    };

    public static PlayerCard Read(string json) => JsonSerializer.Deserialize<PlayerCard>(json, Json) ?? new();

    public string Write() => JsonSerializer.Serialize(this, Json);
}

/// <summary>The players.</summary>
internal sealed class Players(Database database, TimeProvider clock) : Shelf("players", database, clock)
{
    /// <summary>By name.</summary>
    public IReadOnlyList<StoredPlayer> List()
    {
        using var db = Open();
        return [.. db.Query<(long Id, string Name, string Card)>("select id, name, card from players where removed is null").Select(Of).OrderBy(p => p.Name, StringComparer.CurrentCultureIgnoreCase)];
    }

    /// <summary>Null where there is none or they were put away.</summary>
    public StoredPlayer? Find(long id)
    {
        using var db = Open();
        var found = db.Query<(long Id, string Name, string Card)>("select id, name, card from players where id = @id and removed is null", new { id }).ToList();
        return found.Count == 0 ? null : Of(found[0]);
    }

    /// <summary>An id is never given twice: what names somebody who was deleted must not come to mean another.</summary>
    public long Add(string name, PlayerCard card)
    {
        using var db = Open();
        var id = db.ExecuteScalar<long>("update last_ids set id = id + 1 where of = 'players' returning id");
        db.Execute("insert into players (id, name, card, added) values (@id, @name, @card, @now)", new { id, name, card = card.Write(), now = Now() });
        return id;
    }

    public void Save(long id, string name, PlayerCard card) => Run("update players set name = @name, card = @card where id = @id", new { id, name, card = card.Write() });

    /// <summary>Deletes a card for good; their takes go first.</summary>
    public void Delete(long id) => DeleteForGood(id);

    private static StoredPlayer Of((long Id, string Name, string Card) row) => new(row.Id, row.Name, PlayerCard.Read(row.Card));
}
