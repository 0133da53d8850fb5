namespace Seamwright.Engraving.Layout;

/// <summary>Sees to it that no section ends with a system of a single bar while the one before it is full; a short section, as exercises
/// have, is shared out evenly between its last two systems.</summary>
internal static class Widow
{
    /// <summary>Bars that should begin the systems instead; null where the engraver's own breaks are good.</summary>
    /// <param name="pages">As the engraver gave them.</param>
    /// <param name="sections">Bars that begin a section, which are not among the answer: they begin a system anyway.</param>
    /// <param name="open">Whether the music goes on after the last system.</param>
    public static IReadOnlySet<int>? BetterBreaks(IEnumerable<string> pages, IReadOnlyCollection<int> sections, bool open = false)
    {
        var systems = SystemBars.SystemsOf(pages).Select(SystemBars.Of).Where(b => b.Count > 0).ToList();
        var starts = systems.Select(b => b[0]).ToList();
        var mended = false;
        for (var i = 1; i < systems.Count; i++)
        {
            var isLast = i + 1 == systems.Count ? !open : sections.Contains(starts[i + 1]);
            if (!isLast || sections.Contains(starts[i]) || Moved(systems[i - 1].Count, systems[i].Count, sections.Count > 0) is not (> 0 and var moved)) continue;
            starts[i] = systems[i - 1][^moved];
            mended = true;
        }

        return mended ? starts.Where(s => !sections.Contains(s)).ToHashSet() : null;
    }

    // How many bars go from the system before to the last one: no system grows beyond what the other was.
    private static int Moved(int before, int last, bool evenly)
    {
        if (evenly) return (before - last) / 2;
        return last == 1 && before >= 3 ? 1 : 0;
    }
}
