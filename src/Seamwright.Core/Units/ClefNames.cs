using System.Collections.Immutable;

namespace Seamwright.Core.Units;

/// <summary>The clefs trombonists choose among, by the names that options, files and forms use.</summary>
public static class ClefNames
{
    private static readonly ImmutableArray<(string Name, Clef Clef, string Words)> Known =
        [("bass", Clef.Bass, "bass"), ("tenor", Clef.Tenor, "tenor"), ("alto", Clef.Alto, "alto"), ("treble-bb", Clef.TrebleBb, "treble in B♭")];

    /// <summary><c>bass</c>, <c>tenor</c>, <c>alto</c>, <c>treble-bb</c>.</summary>
    public static ImmutableArray<string> All { get; } = [.. Known.Select(k => k.Name)];

    /// <summary>The clef of a name; null for any other text.</summary>
    public static Clef? Find(string name) => Known.Where(k => k.Name == name).Select(k => (Clef?)k.Clef).FirstOrDefault();

    /// <summary>As a reader is told: <c>treble in B♭</c>.</summary>
    /// <param name="name">One of <see cref="All"/>.</param>
    public static string Words(string name) => Known.Single(k => k.Name == name).Words;
}
