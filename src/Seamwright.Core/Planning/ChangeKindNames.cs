using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;

namespace Seamwright.Core.Planning;

/// <summary>The words for plan values in JSON and on the command line.</summary>
public static class ChangeKindNames
{
    /// <summary><c>natural-slur</c>, <c>valve-slur</c>, <c>soft-tongue</c>, <c>tongued</c>, <c>breath</c> or <c>glissando</c>.</summary>
    public static string WireName(this ChangeKind kind) => kind switch
    {
        ChangeKind.NaturalSlur => "natural-slur",
        ChangeKind.ValveSlur => "valve-slur",
        ChangeKind.SoftTongue => "soft-tongue",
        ChangeKind.Tongued => "tongued",
        ChangeKind.Breath => "breath",
        ChangeKind.Glissando => "glissando",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "Not a kind of change."),
    };
}

/// <summary>The words for what an exercise asks of a change.</summary>
public static class ChangeIntentNames
{
    private static readonly ImmutableArray<string> Names = ["slow-slide", "fast-slide", "soft-tongue", "natural-slur", "imagined-tongue", "touched-tone"];

    /// <summary><c>slow-slide</c>, <c>fast-slide</c>, <c>soft-tongue</c>, <c>natural-slur</c>, <c>imagined-tongue</c> or <c>touched-tone</c>.</summary>
    public static string WireName(this ChangeIntent intent) => Names[(int)intent];

    /// <summary>Reads a wire name, exactly as written.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out ChangeIntent intent)
    {
        var i = text is null ? -1 : Names.IndexOf(text);
        intent = i < 0 ? default : (ChangeIntent)i;
        return i >= 0;
    }
}
