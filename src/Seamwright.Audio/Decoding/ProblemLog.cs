using System.Collections.Immutable;
using Seamwright.Core;

namespace Seamwright.Audio.Decoding;

/// <summary>What is to be said about one file; grows while it is read, but not without end.</summary>
internal sealed class ProblemLog(string name)
{
    private const int Most = 50;

    private readonly List<Problem> said = [];

    /// <summary>The file's name, for messages.</summary>
    public string Name => name;

    public ImmutableArray<Problem> All => [.. said];

    /// <summary>Something that was left out, guessed or forgiven.</summary>
    public void Say(string what, string hint = "", Severity severity = Severity.Warning) => Add(new Problem(name, what, hint, severity));

    /// <summary>A reason why nothing can be read.</summary>
    public void Refuse(string what, string hint) => Say(what, hint, Severity.Error);

    public void Add(IEnumerable<Problem> problems)
    {
        foreach (var problem in problems) Add(problem);
    }

    private void Add(Problem problem)
    {
        if (said.Count < Most) said.Add(problem);
    }
}
