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
