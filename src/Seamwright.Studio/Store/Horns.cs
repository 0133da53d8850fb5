using System.Globalization;
using Dapper;
using Seamwright.Core.Instruments;

namespace Seamwright.Studio.Store;

/// <summary>An instrument of somebody's own.</summary>
/// <param name="Id">In the store.</param>
/// <param name="Instrument">Its id is the key that settings name it by.</param>
/// <param name="Content">The instrument's file (UTF-8 JSON).</param>
public sealed record OwnHorn(long Id, Instrument Instrument, byte[] Content);

/// <summary>The instruments there are: those of the catalogue, and own ones under keys such as <c>own-3</c>.</summary>
internal sealed class Horns(Database database, TimeProvider clock) : Shelf("horns", database, clock)
{
    private const string Prefix = "own-";

    /// <summary>Own ones, newest first.</summary>
    public IReadOnlyList<OwnHorn> List()
    {
        using var db = Open();
        return [.. db.Query<(long Id, byte[] Content)>("select id, content from horns where removed is null order by id desc").Select(h => Read(h.Id, h.Content))];
    }

    /// <summary>Everything a form offers: own ones first.</summary>
    public IReadOnlyList<Instrument> Choices() => [.. List().Select(h => h.Instrument), .. Catalogue.All()];

    /// <summary>By its key; own ones that were put away are found too, since pieces and takes may be played on them.</summary>
    /// <returns>Null where there is none.</returns>
    public Instrument? Find(string key) => Catalogue.Find(key) ?? Own(key)?.Instrument;

    /// <summary>As <see cref="Find"/>, and the usual one where there is none.</summary>
    public Instrument OrUsual(string key) => Find(key) ?? Catalogue.Default;

    /// <summary>An own one by its key, also where it was put away; null where there is none.</summary>
    public OwnHorn? Own(string key)
    {
        if (!key.StartsWith(Prefix, StringComparison.Ordinal) || !long.TryParse(key.AsSpan(Prefix.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var id)) return null;
        using var db = Open();
        return db.QuerySingleOrDefault<byte[]>("select content from horns where id = @id", new { id }) is { } content ? Read(id, content) : null;
    }

    /// <summary>Keeps a new one.</summary>
    /// <returns>Its key.</returns>
    public string Add(Instrument instrument)
    {
        using var db = Open();
        var id = db.ExecuteScalar<long>("insert into horns (content, added) values (@content, @added) returning id", new { content = InstrumentFile.Bytes(instrument), added = Now() });
        return Key(id);
    }

    public void Replace(long id, Instrument instrument) => Run("update horns set content = @content where id = @id", new { id, content = InstrumentFile.Bytes(instrument) });

    private static string Key(long id) => $"{Prefix}{id}";

    // What was stored was read before.
    private static OwnHorn Read(long id, byte[] content)
    {
        using var stream = new MemoryStream(content, writable: false);
        return new OwnHorn(id, InstrumentFile.Read(stream, Key(id)).Value with { Id = Key(id) }, content);
    }
}
