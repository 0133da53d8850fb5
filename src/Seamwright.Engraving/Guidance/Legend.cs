using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Engraving.Guidance;

/// <summary>One explanation: a mark or a sample of print, and what it means.</summary>
/// <param name="Mark">Drawn first, where there is one.</param>
/// <param name="Sample">Printed strongly before the meaning; may be empty.</param>
/// <param name="Meaning">In a pupil's words.</param>
internal sealed record LegendEntry(SheetMark? Mark, string Sample, string Meaning);

/// <summary>Explains what stands on one sheet, and nothing else.</summary>
internal static class Legend
{
    private const int Furthest = 7;

    public static ImmutableArray<LegendEntry> For(IReadOnlyCollection<NoteGuide> guides, Plan? plan, string syllable)
    {
        var printed = guides.SelectMany(g => g.Positions).ToHashSet();
        var marks = guides.SelectMany(g => g.Marks).ToHashSet();
        return [.. Positions(printed, guides), .. Valves(printed, plan?.Instrument), .. Marks(marks, syllable), .. Imagined(guides)];
    }

    private static IEnumerable<LegendEntry> Positions(HashSet<PositionPrint> printed, IReadOnlyCollection<NoteGuide> guides)
    {
        if (printed.Any(p => p != PositionPrint.OutOfReach)) yield return new(null, "1 2 3 …", "slide position");
        if (Example(printed, '♭') is { } flat) yield return new(null, $"♭{flat}", flat == Furthest ? $"beyond {Ordinal(flat)}" : $"beyond {Ordinal(flat)}, towards {Ordinal(flat + 1)}");
        if (Example(printed, '♯') is { } sharp) yield return new(null, $"♯{sharp}", sharp == 1 ? "inside 1st" : $"before {Ordinal(sharp)}, towards {Ordinal(sharp - 1)}");
        if (guides.Any(g => !g.LaterPositions.IsEmpty || g.Syllable.StartsWith('['))) yield return new(null, "[ ]", "on the repeat");
        if (printed.Contains(PositionPrint.OutOfReach)) yield return new(null, PositionPrint.OutOfReach.Place, "out of reach");
    }

    private static IEnumerable<LegendEntry> Valves(HashSet<PositionPrint> printed, Instrument? instrument)
    {
        if (instrument is null) yield break;
        var used = printed.Select(p => p.Valves).ToHashSet();
        var names = instrument.Sides.Where(s => s.Valves.Length == 1).ToDictionary(s => s.Valves[0], s => s.Label);
        foreach (var side in instrument.Sides.Where(s => !s.Valves.IsEmpty && used.Contains(s.Label)))
        {
            var held = side.Valves.Select(v => names.GetValueOrDefault(v, v.Replace("b", "♭", StringComparison.Ordinal)));
            yield return new(null, side.Label, side.Valves.Length == 1 ? $"{held.First()} valve, slide as on the open horn" : $"{string.Join(" and ", held)} valves together");
        }
    }

    private static IEnumerable<LegendEntry> Marks(HashSet<SheetMark> marks, string syllable)
    {
        var tongue = syllable.Length > 0 ? $"soft tongue, “{syllable}”" : "soft tongue";
        if (marks.Contains(SheetMark.NaturalSlur)) yield return new(SheetMark.NaturalSlur, "", "natural slur, no tongue");
        if (marks.Contains(SheetMark.ValveSlur)) yield return new(SheetMark.ValveSlur, "", "valve slur, no tongue");
        if (marks.Contains(SheetMark.SoftTongue)) yield return new(SheetMark.SoftTongue, "", tongue);
        if (marks.Contains(SheetMark.GlissandoUp)) yield return new(SheetMark.GlissandoUp, "", "glissando up, slide heard");
        if (marks.Contains(SheetMark.GlissandoDown)) yield return new(SheetMark.GlissandoDown, "", "glissando down, slide heard");
        if (marks.Contains(SheetMark.FastSlideUp)) yield return new(SheetMark.FastSlideUp, "", "fast slide up, no tongue");
        if (marks.Contains(SheetMark.FastSlideDown)) yield return new(SheetMark.FastSlideDown, "", "fast slide down, no tongue");
        if (marks.Contains(SheetMark.TooFast)) yield return new(SheetMark.TooFast, "", "too fast for the arm: play it slower");
    }

    private static IEnumerable<LegendEntry> Imagined(IReadOnlyCollection<NoteGuide> guides) =>
        guides.FirstOrDefault(g => g.Syllable.StartsWith('(')) is { } guide ? [new(null, guide.Syllable, "only imagine the tongue")] : [];

    /// <summary>The smallest position that carries a sign.</summary>
    private static int? Example(HashSet<PositionPrint> printed, char sign)
    {
        var found = printed.Where(p => p.Place[0] == sign && int.TryParse(p.Place[1..], out _)).Select(p => int.Parse(p.Place[1..])).ToList();
        return found.Count > 0 ? found.Min() : null;
    }

    private static string Ordinal(int n) => n switch
    {
        1 => "1st",
        2 => "2nd",
        3 => "3rd",
        _ => $"{n}th",
    };
}
