namespace Seamwright.Core.Scores.Abc;

/// <summary>What hangs on the next note.</summary>
internal sealed class NoteMarks
{
    public Articulations Articulations { get; set; }

    public bool Fermata { get; set; }

    public bool BreathAfter { get; set; }

    public bool GlissandoStarts { get; set; }

    public bool GlissandoStops { get; set; }

    public bool IsEmpty => Articulations == Articulations.None && !Fermata && !BreathAfter && !GlissandoStarts && !GlissandoStops;
}

/// <summary>Named symbols: <c>!tenuto!</c>, <c>!mf!</c>, <c>!segno!</c> (ABC 2.1, section 4.14).</summary>
internal static class Symbols
{
    private static readonly Dictionary<string, Articulations> Articulation = new()
    {
        ["."] = Articulations.Staccato,
        ["staccato"] = Articulations.Staccato,
        ["tenuto"] = Articulations.Tenuto,
        [">"] = Articulations.Accent,
        ["accent"] = Articulations.Accent,
        ["emphasis"] = Articulations.Accent,
        ["^"] = Articulations.StrongAccent,
        ["marcato"] = Articulations.StrongAccent,
        ["wedge"] = Articulations.Staccatissimo,
    };

    private static readonly HashSet<string> Dynamics = ["pppp", "ppp", "pp", "p", "mp", "mf", "f", "ff", "fff", "ffff", "sfz", "sf", "fp", "fz", "sfp"];

    private static readonly Dictionary<string, DirectionKind> Hairpins = new()
    {
        ["crescendo("] = DirectionKind.Crescendo,
        ["<("] = DirectionKind.Crescendo,
        ["diminuendo("] = DirectionKind.Diminuendo,
        [">("] = DirectionKind.Diminuendo,
        ["crescendo)"] = DirectionKind.HairpinEnd,
        ["<)"] = DirectionKind.HairpinEnd,
        ["diminuendo)"] = DirectionKind.HairpinEnd,
        [">)"] = DirectionKind.HairpinEnd,
    };

    private static readonly Dictionary<string, RoadSign[]> Roads = new()
    {
        ["segno"] = [RoadSign.Segno],
        ["coda"] = [RoadSign.Coda],
        ["dacoda"] = [RoadSign.ToCoda],
        ["fine"] = [RoadSign.Fine],
        ["D.C."] = [RoadSign.DaCapo],
        ["dacapo"] = [RoadSign.DaCapo],
        ["D.S."] = [RoadSign.DalSegno],
        ["D.C.alfine"] = [RoadSign.DaCapo],
        ["D.S.alfine"] = [RoadSign.DalSegno],
        ["D.C.alcoda"] = [RoadSign.DaCapo],
        ["D.S.alcoda"] = [RoadSign.DalSegno],
    };

    private static readonly HashSet<string> Ornaments =
    [
        "trill", "trill(", "trill)", "lowermordent", "uppermordent", "mordent", "pralltriller", "roll", "turn", "turnx", "invertedturn", "invertedturnx", "arpeggio", "slide",
    ];

    /// <summary>Takes a symbol that belongs to a note.</summary>
    /// <returns>Whether it is one.</returns>
    public static bool Take(string name, NoteMarks marks)
    {
        if (Articulation.TryGetValue(name, out var articulation)) marks.Articulations |= articulation;
        else if (name is "fermata" or "invertedfermata") marks.Fermata = true;
        else if (name is "breath") marks.BreathAfter = true;
        else if (name is "~(" or "glissando(") marks.GlissandoStarts = true;
        else if (name is "~)" or "glissando)") marks.GlissandoStops = true;
        else return false;
        return true;
    }

    /// <summary>The direction that a symbol is; null for none.</summary>
    public static (DirectionKind Kind, string Text)? Direction(string name) =>
        Dynamics.Contains(name) ? (DirectionKind.Dynamic, name) : Hairpins.TryGetValue(name, out var kind) ? (kind, "") : null;

    /// <summary>The signs of the road that a symbol is; empty for none.</summary>
    public static IReadOnlyList<RoadSign> Road(string name) => Roads.GetValueOrDefault(name) ?? [];

    public static bool IsOrnament(string name) => Ornaments.Contains(name);
}
