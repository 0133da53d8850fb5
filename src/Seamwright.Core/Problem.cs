using System.Collections.Immutable;

namespace Seamwright.Core;

/// <summary>One thing wrong with an input: where it is, what it is, and what to do about it.</summary>
/// <param name="Where">A place the user can find: a bar and beat, a line, a path in a JSON file, a file name.</param>
/// <param name="What">What was found, with value and unit.</param>
/// <param name="Hint">What to do next; empty where the What says it all.</param>
/// <param name="Severity">Whether the input can still be used.</param>
public sealed record Problem(string Where, string What, string Hint = "", Severity Severity = Severity.Warning)
{
    /// <summary>One line: <c>where: what. Hint.</c></summary>
    public override string ToString() =>
        Hint.Length == 0 ? $"{Where}: {What}" : $"{Where}: {What} {Hint}";
}

/// <summary>How far a <see cref="Problem"/> reaches.</summary>
public enum Severity
{
    /// <summary>Worth saying aloud; nothing was lost.</summary>
    Note,

    /// <summary>Something was left out or guessed; the rest is used.</summary>
    Warning,

    /// <summary>The input cannot be used.</summary>
    Error,
}

/// <summary>A value read from outside, or every reason why there is none.</summary>
/// <remarks>There is a value exactly when no problem is an <see cref="Severity.Error"/>.</remarks>
/// <typeparam name="T">What was asked for.</typeparam>
public sealed record Outcome<T>
    where T : class
{
    private readonly T? value;

    private Outcome(T? value, ImmutableArray<Problem> problems)
    {
        this.value = value;
        Problems = problems;
    }

    /// <summary>All problems, in the order they were met; may be non-empty on success.</summary>
    public ImmutableArray<Problem> Problems { get; }

    /// <summary>Whether there is a <see cref="Value"/>.</summary>
    public bool Succeeded => value is not null;

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">There is none: look at <see cref="Succeeded"/> first.</exception>
    public T Value => value ?? throw new InvalidOperationException("There is no value: " + string.Join("; ", Problems));

    /// <summary>A value, with whatever should be said about it.</summary>
    public static Outcome<T> Of(T value, IEnumerable<Problem>? problems = null) => new(value, [.. problems ?? []]);

    /// <summary>No value, and why.</summary>
    public static Outcome<T> Failed(IEnumerable<Problem> problems) => new(null, [.. problems]);

    /// <summary>No value, and why.</summary>
    public static Outcome<T> Failed(string where, string what, string hint = "") =>
        new(null, [new Problem(where, what, hint, Severity.Error)]);
}
