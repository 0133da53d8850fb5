using Dapper;

namespace Seamwright.Studio.Store;

/// <summary>Small settings of the workbench, by name.</summary>
internal sealed class Preferences(Database database)
{
    /// <summary>Null where it was never set.</summary>
    public string? this[string name]
    {
        get
        {
            using var db = database.Open();
            return db.QuerySingleOrDefault<string>("select value from preferences where name = @name", new { name });
        }
    }

    public void Set(string name, string value)
    {
        using var db = database.Open();
        db.Execute("insert into preferences (name, value) values (@name, @value) on conflict (name) do update set value = @value", new { name, value });
    }
}
