using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Piece;

/// <summary>The clefs a page offers, by the names its form uses.</summary>
internal static class Clefs
{
    private static readonly ImmutableArray<(string Name, Clef Clef, string Words)> All =
    [
        ("bass", Clef.Bass, "bass"), ("tenor", Clef.Tenor, "tenor"), ("alto", Clef.Alto, "alto"), ("treble", Clef.Treble, "treble"), ("treble-bb", Clef.TrebleBb, "treble in B♭"),
    ];

    public static IEnumerable<string> Names => All.Select(c => c.Name);

    public static IEnumerable<(string Name, string Words)> Words => All.Select(c => (c.Name, c.Words));

    /// <summary>Null for any other name.</summary>
    public static Clef? Find(string name) => All.FirstOrDefault(c => c.Name == name) is { Name: not null } found ? found.Clef : null;
}
