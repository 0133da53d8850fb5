using System.Collections.Immutable;
using System.Globalization;
using System.Xml.Linq;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Layout;

/// <summary>Begins the systems of an exercise where no slur is open: a figure that is played in one breath is read in one line.</summary>
/// <remarks>Bars are shared out anew, section by section, at least cost and exactly. A system costs 1, a slur cut in two <see cref="Cut"/>, a line
/// of nothing but rests 2, white the square of its share of the line, half of that at a section's end. How wide a bar is by itself is measured in lines
/// that were not stretched; a line may be fuller than full by <see cref="Squeeze"/>.</remarks>
internal static class WholeSlurs
{
    /// <summary>What a slur cut in two costs, in lines: more than any shorter layout saves, so that only a figure longer than a line is cut.</summary>
    public const double Cut = 3;

    /// <summary>Share of the line by which its bars may be pressed together (proposed default).</summary>
    public const double Squeeze = 0.03;

    private const double OnlyRests = 2;

    // White between a bar line and the first sign of its bar, as the engraver sets it: a staff space.
    private const double Lead = 2 * Notation.MeiWriter.Unit * 10;

    /// <summary>Bars that should begin the systems, at least one.</summary>
    /// <param name="pages">Systems that were not stretched.</param>
    /// <param name="part">Whose bars they are.</param>
    /// <param name="sections">Bars that begin a section, which need not be among the answer: they begin a system anyway.</param>
    /// <param name="line">Width of a system, in hundredths of a millimetre.</param>
    /// <param name="shortest">Share of the line that the shortest last system of a section fills.</param>
    public static IReadOnlySet<int> Breaks(IEnumerable<string> pages, Part part, IReadOnlyCollection<int> sections, double line, out double shortest)
    {
        var (inside, silent) = (BarsInside(part), part.Bars.Where(b => !b.Events.Any(e => e is Note)).Select(b => b.Index).ToHashSet());
        var systems = SystemBars.SystemsOf(pages).Select(BarsOf).Where(b => b.Count > 0);
        var starts = new HashSet<int>();
        shortest = 1;
        foreach (var section in BySection([.. systems.SelectMany(s => s)], sections))
        {
            var own = Starts(section, line, inside, silent);
            starts.UnionWith(own);
            var last = own.Count == 0 ? 0 : section.FindIndex(b => b.Index == own.Max());
            shortest = Math.Min(shortest, (OpeningOf(section, last) + section.Skip(last).Sum(b => b.Width)) / line);
        }

        // The engraver takes breaks of its own where none is written at all.
        return starts.Count > 0 ? starts : ImmutableHashSet.Create(0);
    }

    /// <summary>Indices of bars that a slur reaches into.</summary>
    public static IReadOnlySet<int> BarsInside(Part part) => Notation.Crossings.Of(part, part.Slurs);

    private static IEnumerable<List<DrawnBar>> BySection(List<DrawnBar> bars, IReadOnlyCollection<int> sections)
    {
        var from = 0;
        for (var i = 1; i <= bars.Count; i++)
        {
            if (i < bars.Count && !sections.Contains(bars[i].Index)) continue;
            yield return bars[from..i];
            from = i;
        }
    }

    // The first bars of all systems but the first.
    private static List<int> Starts(List<DrawnBar> bars, double line, IReadOnlySet<int> inside, HashSet<int> silent)
    {
        var cost = Enumerable.Repeat(double.PositiveInfinity, bars.Count + 1).ToArray();
        var from = new int[bars.Count + 1];
        var opening = OpeningOf(bars, 1);
        cost[0] = 0;
        for (var to = 1; to <= bars.Count; to++)
        {
            var (width, sounds) = (0.0, false);
            for (var start = to - 1; start >= 0; start--)
            {
                width += bars[start].Width;
                sounds |= !silent.Contains(bars[start].Index);
                var full = (width + (start == 0 ? bars[0].Opening : opening)) / line;
                if (full > 1 + Squeeze && start < to - 1) break;
                var white = Math.Max(0, 1 - full);
                var here = cost[start] + 1 + (white * white * (to == bars.Count ? 0.5 : 1)) + (start > 0 && inside.Contains(bars[start].Index) ? Cut : 0) + (sounds ? 0 : OnlyRests);
                if (here < cost[to] - 1e-9) (cost[to], from[to]) = (here, start);
            }
        }

        var starts = new List<int>();
        for (var at = from[bars.Count]; at > 0; at = from[at]) starts.Add(bars[at].Index);
        return starts;
    }

    // A later system has clef and signature, and no meter.
    private static double OpeningOf(List<DrawnBar> bars, int start) => start == 0 ? bars[0].Opening : bars.Where(b => b.Opening > 0).Select(b => b.Opening).DefaultIfEmpty(Lead).Min();

    private static List<DrawnBar> BarsOf(XElement system) =>
        [.. system.Elements(Print.Ns + "g").Where(g => g.Attribute("id")?.Value.StartsWith(PlaceId.Bar, StringComparison.Ordinal) == true).Select((g, i) => Drawn(g, isFirst: i == 0))];

    // Clef, signature and meter stand in a system's first bar and are no part of it.
    private static DrawnBar Drawn(XElement bar, bool isFirst)
    {
        var index = int.Parse(bar.Attribute("id")!.Value[PlaceId.Bar.Length..], CultureInfo.InvariantCulture);
        var ends = bar.Elements(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "staff").Elements(Print.Ns + "path").SelectMany(p => PathData.Read(p.Attribute("d")!.Value)).Select(s => s.To.X).ToList();
        if (ends.Count == 0) return new(index, 0, isFirst ? Lead : 0);
        var opening = isFirst ? Math.Max(Lead, FirstSign(bar, ends.Min()) - Lead - ends.Min()) : 0;
        return new(index, ends.Max() - ends.Min() - opening, opening);
    }

    private static double FirstSign(XElement bar, double left) => bar.Descendants(Print.Ns + "g").Where(g => g.Attribute("class")?.Value == "layer").Descendants(Print.Ns + "use")
        .Select(u => Transform.Read(u.Attribute("transform")?.Value ?? "").Of(0, 0).X).Where(x => x > left).DefaultIfEmpty(left).Min();

    private readonly record struct DrawnBar(int Index, double Width, double Opening);
}
