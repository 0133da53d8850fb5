using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>What the music asks between two neighbouring notes.</summary>
public enum JointKind
{
    /// <summary>Under one slur, or joined because everything is.</summary>
    Joined,

    /// <summary>Joined, but marked to be touched (dots or lines under a slur).</summary>
    Touched,

    /// <summary>No slur: an ordinary tongued note.</summary>
    Detached,

    /// <summary>A rest or a breath lies between.</summary>
    Parted,

    /// <summary>A written glissando.</summary>
    Glissando,
}

/// <summary>A pair of neighbouring notes before any setting is chosen.</summary>
/// <param name="Kind">What the music asks.</param>
/// <param name="Available">From the beginning of the first note to the beginning of the second.</param>
/// <param name="Allowed">The longest the arm may take.</param>
public readonly record struct Joint(JointKind Kind, Seconds Available, Seconds Allowed)
{
    /// <summary>What an exercise asks of the way into the second note; null where the notes are parted, too.</summary>
    public ChangeIntent? Asked { get; init; }

    private const Articulations Detaching = Articulations.Staccato | Articulations.Staccatissimo | Articulations.DetachedLegato;
    private const Articulations Touching = Detaching | Articulations.Tenuto | Articulations.Accent | Articulations.StrongAccent;

    /// <summary>Whether the two notes share one stream of air without an ordinary tongued beginning.</summary>
    public bool IsJoined => Kind is JointKind.Joined or JointKind.Touched or JointKind.Glissando || Asked is not null;

    /// <summary>All joints of a line: one fewer than its notes.</summary>
    public static ImmutableArray<Joint> Of(Line line, Player player)
    {
        if (line.Notes.Length < 2) return [];
        var all = JoinsEverything(line, player.Legato);
        return [.. line.Notes.Zip(line.Notes.Skip(1), (a, b) => Between(a, b, all, player))];
    }

    /// <summary>Whether unslurred notes count as joined.</summary>
    public static bool JoinsEverything(Line line, LegatoScope scope) => scope switch
    {
        LegatoScope.All => true,
        LegatoScope.AsWritten => false,
        _ => !line.Notes.Any(n => n.SlurredToNext),
    };

    private static Joint Between(PlayedNote a, PlayedNote b, bool all, Player player)
    {
        var available = b.StartTime - a.StartTime;
        var rest = Math.Max(0, (b.StartTime - a.EndTime).Value);
        var allowed = new Seconds((player.MoveShare * a.Duration.Value) + rest);
        var kind = KindOf(a, b, all);
        return new Joint(kind, available, allowed) { Asked = kind == JointKind.Parted ? null : b.Asked };
    }

    private static JointKind KindOf(PlayedNote a, PlayedNote b, bool all)
    {
        if (a.BreathAfter || b.Start > a.End) return JointKind.Parted;
        if (a.GlissandoToNext) return JointKind.Glissando;
        if (a.SlurredToNext) return (a.Articulations & b.Articulations & Touching) != 0 ? JointKind.Touched : JointKind.Joined;
        if (!all || (a.Articulations & Detaching) != 0) return JointKind.Detached;
        return (b.Articulations & (Articulations.Accent | Articulations.StrongAccent)) != 0 ? JointKind.Detached : JointKind.Joined;
    }
}
