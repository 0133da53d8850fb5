using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using Dapper;

namespace Seamwright.Studio.Store;

/// <summary>A book of exercises that a teacher collects.</summary>
/// <param name="Id">In the store.</param>
/// <param name="Title">On the cover.</param>
/// <param name="Card">What is in it and how it looks.</param>
public sealed record StoredBook(long Id, string Title, BookCard Card);

/// <summary>What a book holds.</summary>
public sealed record BookCard
{
    private static readonly JsonSerializerOptions Json = new() { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull, UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip };

    /// <summary>The teacher's own line on the cover.</summary>
    public string Header { get; init; } = "";

    public string For { get; init; } = "";

    public string Date { get; init; } = "";

    /// <summary>US letter instead of A4.</summary>
    public bool Letter { get; init; }

    /// <summary>Purpose and ways of practising only where they are new.</summary>
    public bool FewWords { get; init; }

    /// <summary>In the order of the book.</summary>
    public ImmutableArray<BookLine> Lines { get; init; } = [];

    public static BookCard Read(string json) => JsonSerializer.Deserialize<BookCard>(json, Json) ?? new();

    public string Write() => JsonSerializer.Serialize(this, Json);
}

/// <summary>One order of exercises in a book.</summary>
/// <param name="Chapter">Heads a chapter that begins here; empty where it goes on.</param>
/// <param name="Wish">What was asked for, as the practice page's address has it.</param>
public sealed record BookLine(string Chapter, string Wish);

/// <summary>The books.</summary>
internal sealed class Books(Database database, TimeProvider clock) : Shelf("books", database, clock)
{
    /// <summary>Newest first.</summary>
    public IReadOnlyList<StoredBook> List()
    {
        using var db = Open();
        return [.. db.Query<(long Id, string Title, string Recipe)>("select id, title, recipe from books where removed is null order by id desc").Select(Of)];
    }

    /// <summary>All, those put away too.</summary>
    public IReadOnlyList<StoredBook> Everything()
    {
        using var db = Open();
        return [.. db.Query<(long Id, string Title, string Recipe)>("select id, title, recipe from books order by id").Select(Of)];
    }

    /// <summary>Null where there is none or it was put away.</summary>
    public StoredBook? Find(long id)
    {
        using var db = Open();
        var found = db.Query<(long Id, string Title, string Recipe)>("select id, title, recipe from books where id = @id and removed is null", new { id }).ToList();
        return found.Count == 0 ? null : Of(found[0]);
    }

    public long Add(string title, BookCard card)
    {
        using var db = Open();
        return db.ExecuteScalar<long>("insert into books (title, recipe, added) values (@title, @recipe, @now) returning id", new { title, recipe = card.Write(), now = Now() });
    }

    public void Save(long id, string title, BookCard card) => Run("update books set title = @title, recipe = @recipe where id = @id", new { id, title, recipe = card.Write() });

    private static StoredBook Of((long Id, string Title, string Recipe) row) => new(row.Id, row.Title, BookCard.Read(row.Recipe));
}
