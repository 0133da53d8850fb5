using System.CommandLine;

namespace Seamwright.Cli.Input;

/// <summary>What a command does with a file that is named on the command line.</summary>
internal enum FileUse
{
    /// <summary>It must stay as it is.</summary>
    Read,

    /// <summary>It is made, or replaced by a new one.</summary>
    Written,

    /// <summary>It is a folder, made where it is missing.</summary>
    Folder,
}

/// <summary>A part of a command line that names files; <see cref="NamedFiles"/> looks at all of them before a command runs.</summary>
internal interface INamedFile
{
    FileUse Use { get; }

    /// <summary>The paths that were named, as typed; none where none was.</summary>
    IEnumerable<string> Paths(ParseResult result);
}

/// <summary>An option that names a file, or several where <typeparamref name="T"/> is an array.</summary>
internal sealed class FileOption<T> : Option<T>, INamedFile
{
    public FileOption(FileUse use, string description, string name, params string[] aliases)
        : base(name, aliases)
    {
        (Use, Description, HelpName) = (use, description, use == FileUse.Folder ? "FOLDER" : "FILE");
        Validators.Add(r =>
        {
            if (r.Tokens.Any(t => string.IsNullOrWhiteSpace(t.Value))) r.AddError($"{name} names nothing: give a {HelpName!.ToLowerInvariant()}.");
        });
    }

    public FileUse Use { get; }

    public IEnumerable<string> Paths(ParseResult result) => result.GetResult(this)?.Tokens.Select(t => t.Value) ?? [];
}

/// <summary>An argument that names a file to be read.</summary>
internal sealed class FileArgument : Argument<string>, INamedFile
{
    public FileArgument(string name, string description)
        : base(name)
    {
        Description = description;
        Validators.Add(r =>
        {
            if (r.Tokens.Any(t => string.IsNullOrWhiteSpace(t.Value))) r.AddError($"{name} names nothing: give a file.");
        });
    }

    public FileUse Use => FileUse.Read;

    public IEnumerable<string> Paths(ParseResult result) => result.GetResult(this)?.Tokens.Select(t => t.Value) ?? [];
}
