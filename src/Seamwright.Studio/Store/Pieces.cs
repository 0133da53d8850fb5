using Dapper;

namespace Seamwright.Studio.Store;

/// <summary>A piece of music as it lies in the workbench.</summary>
public sealed record Piece
{
    public long Id { get; init; }

    public required string Title { get; init; }

    public string Composer { get; init; } = "";

    /// <summary>As it was given; its ending tells nothing, the content does.</summary>
    public required string FileName { get; init; }

    /// <summary>How it is planned, as JSON; see <c>PieceSettings</c>.</summary>
    public string Settings { get; init; } = "{}";

    /// <summary>Put in by the workbench itself, invented.</summary>
    public bool Demo { get; init; }

    public string Added { get; init; } = "";

    /// <summary>In the order of the alphabet.</summary>
    public IReadOnlyList<string> Tags { get; init; } = [];
}

/// <summary>The music in the workbench.</summary>
internal sealed class Pieces(Database database, TimeProvider clock) : Shelf("pieces", database, clock)
{
    private const string Columns = "id, title, composer, file_name, settings, demo, added";

    /// <summary>Newest first; those that match every word of a search in title, composer, tag or file name.</summary>
    public IReadOnlyList<Piece> List(string search = "")
    {
        using var db = Open();
        var tags = db.Query<(long Piece, string Tag)>("select piece, tag from tags order by tag").ToLookup(t => t.Piece, t => t.Tag);
        var words = search.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return [.. db.Query<Piece>($"select {Columns} from pieces where removed is null order by added desc, id desc")
            .Select(p => p with { Tags = [.. tags[p.Id]] })
            .Where(p => words.All(w => new[] { p.Title, p.Composer, p.FileName }.Concat(p.Tags).Any(t => t.Contains(w, StringComparison.CurrentCultureIgnoreCase))))];
    }

    /// <summary>All, those put away too, without their tags.</summary>
    public IReadOnlyList<Piece> Everything()
    {
        using var db = Open();
        return [.. db.Query<Piece>($"select {Columns} from pieces order by id")];
    }

    /// <summary>One, or null where there is none or it was removed.</summary>
    /// <param name="id">Of the piece.</param>
    /// <param name="evenRemoved">Also where it was put away: its takes are still heard.</param>
    public Piece? Find(long id, bool evenRemoved = false)
    {
        using var db = Open();
        var piece = db.QuerySingleOrDefault<Piece>($"select {Columns} from pieces where id = @id and (removed is null or @evenRemoved)", new { id, evenRemoved });
        return piece is null ? null : piece with { Tags = [.. db.Query<string>("select tag from tags where piece = @id order by tag", new { id })] };
    }

    /// <summary>The file as it was given.</summary>
    public byte[]? Content(long id)
    {
        using var db = Open();
        return db.QuerySingleOrDefault<byte[]>("select content from pieces where id = @id", new { id });
    }

    public long Add(string title, string composer, string fileName, byte[] content, bool demo = false)
    {
        using var db = Open();
        return db.ExecuteScalar<long>(
            "insert into pieces (title, composer, file_name, content, demo, added) values (@title, @composer, @fileName, @content, @demo, @added) returning id",
            new { title, composer, fileName, content, demo, added = Now() });
    }

    /// <summary>A piece with the very same content that was not put away; null where there is none.</summary>
    public Piece? Same(byte[] content)
    {
        using var db = Open();
        return db.QueryFirstOrDefault<Piece>($"select {Columns} from pieces where content = @content and removed is null order by id", new { content });
    }

    /// <summary>The same music a second time, with the same tags and settings to begin with.</summary>
    /// <returns>Its id.</returns>
    public long Copy(Piece piece, string title)
    {
        var id = Add(title, piece.Composer, piece.FileName, Content(piece.Id)!);
        SaveSettings(id, piece.Settings);
        Tag(id, piece.Tags);
        return id;
    }

    public void Rename(long id, string title) => Run("update pieces set title = @title where id = @id", new { id, title });

    public void Replace(long id, string title, string composer, byte[] content) =>
        Run("update pieces set title = @title, composer = @composer, content = @content where id = @id", new { id, title, composer, content });

    public void SaveSettings(long id, string settings) => Run("update pieces set settings = @settings where id = @id", new { id, settings });

    public void Tag(long id, IEnumerable<string> tags)
    {
        using var db = Open();
        using var transaction = db.BeginTransaction();
        db.Execute("delete from tags where piece = @id", new { id }, transaction);
        foreach (var tag in tags.Distinct(StringComparer.OrdinalIgnoreCase)) db.Execute("insert into tags (piece, tag) values (@id, @tag)", new { id, tag }, transaction);
        transaction.Commit();
    }

    /// <summary>Puts everything invented away.</summary>
    /// <returns>What was put away.</returns>
    public IReadOnlyList<long> RemoveDemo()
    {
        using var db = Open();
        return [.. db.Query<long>("update pieces set removed = @now where demo = 1 and removed is null returning id", new { now = Now() })];
    }
}
