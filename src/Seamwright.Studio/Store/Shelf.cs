using System.Data;
using System.Globalization;
using Dapper;

namespace Seamwright.Studio.Store;

/// <summary>A table whose rows can be put away and brought back; it has the columns <c>id</c> and <c>removed</c>.</summary>
/// <param name="table">Its name in the database.</param>
/// <param name="database">Where it lies.</param>
/// <param name="clock">Says when something was put away.</param>
internal abstract class Shelf(string table, Database database, TimeProvider clock)
{
    /// <summary>Puts one away; <see cref="Restore"/> brings it back.</summary>
    public void Remove(long id) => Run($"update {table} set removed = @now where id = @id and removed is null", new { id, now = Now() });

    /// <summary>Brings back what was put away.</summary>
    public void Restore(long id) => Run($"update {table} set removed = null where id = @id", new { id });

    /// <summary>Takes one out so that its words lie in no file any more.</summary>
    protected void DeleteForGood(long id)
    {
        Run($"delete from {table} where id = @id", new { id });
        database.Forget();
    }

    protected IDbConnection Open() => database.Open();

    /// <summary>ISO 8601, UTC.</summary>
    protected string Now() => clock.GetUtcNow().ToString("O", CultureInfo.InvariantCulture);

    protected void Run(string sql, object values)
    {
        using var db = Open();
        db.Execute(sql, values);
    }
}
