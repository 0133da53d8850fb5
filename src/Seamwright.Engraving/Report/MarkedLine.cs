using System.Xml.Linq;
using Seamwright.Core.Diagnosis.Page;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Engraving.Engines;
using Seamwright.Engraving.Fonts;
using Seamwright.Engraving.Layout;
using Seamwright.Engraving.Pages;

namespace Seamwright.Engraving.Report;

/// <summary>The line of music with what was heard under it.</summary>
internal sealed class MarkedLine(IEngraver engraver, SheetFonts fonts)
{
    // Widths of a system in hundredths of a millimetre; on a desk and on a telephone a staff then comes out about as high.
    private const int DeskWidth = 24000, TelephoneWidth = 8600;

    /// <summary>Systems of one width.</summary>
    public EngravedSystems Engrave(Part part, Plan plan, ReportText report, int width) =>
        new SystemEngraver(engraver, fonts).Engrave(part, new SheetOptions { ShowChanges = false }, HeardGuide.Of(part, plan, report), width);

    /// <summary>The same music for wide and narrow pages on a screen.</summary>
    public PageMusic ForPage(Part part, Plan plan, ReportText report)
    {
        var (desk, telephone) = (Engrave(part, plan, report, DeskWidth), Engrave(part, plan, report, TelephoneWidth));
        var both = new EngravedSystems(Print.Element("defs", desk.Definitions.Elements(), telephone.Definitions.Elements()), [.. desk.Systems, .. telephone.Systems]);
        return new PageMusic(
            both.Used([.. both.Systems.Select(s => s.Drawing)]),
            [.. desk.Systems.Select((s, i) => ForPage(s, DeskWidth, i, desk.Systems.Length, report))],
            [.. telephone.Systems.Select((s, i) => ForPage(s, TelephoneWidth, i, telephone.Systems.Length, report))]);
    }

    private MusicSystem ForPage(DressedSystem system, int width, int index, int count, ReportText report)
    {
        var noteIds = system.Drawing.Descendants().Attributes("id").Select(a => a.Value).ToHashSet(StringComparer.Ordinal);
        var drawing = ForStyleSheet(system.Drawing);
        const int Air = 80;
        var box = $"{-Air} {Print.Number(system.Top - Air)} {width + (2 * Air)} {Print.Number(system.Height + (2 * Air))}";
        return new(Print.Element("svg", Print.Is("viewBox", box), drawing), Told(report, noteIds, index, count));
    }

    // Ids would clash between the two widths.
    private XElement ForStyleSheet(XElement system)
    {
        var copy = ScreenInk.Of(system, fonts);
        foreach (var e in copy.DescendantsAndSelf()) e.Attribute("id")?.Remove();
        return copy;
    }

    private static string Told(ReportText report, HashSet<string> noteIds, int index, int count)
    {
        var here = report.Marks.Where(m => noteIds.Contains(m.NoteId) && m.Word.Length > 0).Select(m => m.Number is { } n ? $"{n} {m.Word}" : m.Word).ToList();
        return $"The line of music, system {index + 1} of {count}: {(here.Count == 0 ? "nothing to mend" : string.Join(", ", here))}.";
    }
}
