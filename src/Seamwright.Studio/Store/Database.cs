using System.Data;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Seamwright.Studio.Store;

/// <summary>The workbench's own file of things: one SQLite database in the data folder.</summary>
/// <remarks>Nothing is deleted at once: what is removed carries the time of its removal until it is deleted for good.</remarks>
internal sealed class Database
{
    // Every step is run once, in order; never change one that was published, add another.
    private static readonly string[] Steps =
    [
        """
        create table pieces (
            id integer primary key,
            title text not null,
            composer text not null default '',
            file_name text not null,
            content blob not null,
            settings text not null default '{}',
            demo integer not null default 0,
            added text not null,
            removed text);
        create table tags (
            piece integer not null references pieces(id) on delete cascade,
            tag text not null,
            primary key (piece, tag));
        create table preferences (name text primary key, value text not null);
        """,
        """
        create table takes (
            id integer primary key,
            piece integer not null references pieces(id),
            settings text not null default '{}',
            name text not null default '',
            file text not null default '',
            rate integer not null default 0,
            state text not null,
            seconds real not null default 0,
            to_mend integer,
            overall text not null default '',
            begun text not null,
            removed text);
        """,
        """
        create table horns (
            id integer primary key,
            content blob not null,
            added text not null,
            removed text);
        create table players (
            id integer primary key,
            name text not null,
            card text not null default '{}',
            added text not null,
            removed text);
        alter table takes add column player integer references players(id);
        create table books (
            id integer primary key,
            title text not null,
            recipe text not null,
            added text not null,
            removed text);
        """,
        """
        create table last_ids (of text primary key, id integer not null);
        insert into last_ids select 'players', coalesce(max(id), 0) from players;
        """,
    ];

    private readonly string connection;

    /// <param name="folder">Made where it is missing.</param>
    /// <exception cref="IOException">The folder cannot be made or written.</exception>
    public Database(string folder)
    {
        Directory.CreateDirectory(folder);
        connection = new SqliteConnectionStringBuilder { DataSource = Path.Combine(folder, "workbench.db"), ForeignKeys = true, DefaultTimeout = 10 }.ToString();
        DefaultTypeMap.MatchNamesWithUnderscores = true;
        using var db = Open();
        db.Execute("pragma journal_mode = wal");
        Upgrade(db);
    }

    /// <summary>A connection of the caller's own, to be disposed.</summary>
    public IDbConnection Open()
    {
        var db = new SqliteConnection(connection);
        db.Open();

        // What is deleted for good is written over, not only forgotten.
        db.Execute("pragma secure_delete = on");
        return db;
    }

    /// <summary>Brings what was just deleted for good to the disk: the log of changes is written into the database and emptied.</summary>
    public void Forget()
    {
        using var db = Open();
        db.Execute("pragma wal_checkpoint(truncate)");
    }

    private static void Upgrade(IDbConnection db)
    {
        var done = db.ExecuteScalar<long>("pragma user_version");
        if (done > Steps.Length) throw new IOException($"The data folder was written by a newer Seamwright (version {done} of its database; this one knows {Steps.Length}). Use that one, or another folder.");
        for (var step = (int)done; step < Steps.Length; step++)
        {
            using var transaction = db.BeginTransaction();
            db.Execute(Steps[step], transaction: transaction);
            db.Execute($"pragma user_version = {step + 1}", transaction: transaction);
            transaction.Commit();
        }
    }
}
