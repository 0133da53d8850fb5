using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Chooses the clefs of an exercise: few ledger lines, few changes.</summary>
/// <remarks><para>Trombones read bass clef, and tenor clef for high passages (Wikibooks, Trombone, Basic concepts in musical theory);
/// altos read alto clef (common practice), and bass clef below it. The treble clef in B-flat of brass bands is taken only when
/// wished.</para>
/// <para>Of all ways to give every bar a clef the cheapest is taken, exactly. A note costs its ledger lines beyond the first, because
/// one is read as easily as none; a note in another than the usual clef costs <see cref="Strange"/> more; a change of clef costs
/// <see cref="ChangeAtSection"/> where a section begins and <see cref="ChangeInside"/> at another bar line, and none stands inside a
/// tied note. Of equally cheap ways the clef changes as late as possible, right before the notes that want it. Proposed defaults:
/// in bass clef an octave from F3 stays, one from B♭3 goes to the tenor clef.</para></remarks>
public static class ClefChoice
{
    /// <summary>Cost of a note in another than the usual clef, in ledger lines.</summary>
    public const double Strange = 0.6;

    /// <summary>Cost of a change where a section begins, in ledger lines.</summary>
    public const double ChangeAtSection = 4;

    /// <summary>Cost of a change at another bar line, in ledger lines.</summary>
    public const double ChangeInside = 12;

    /// <summary>The part in the clefs chosen.</summary>
    /// <param name="part">Its own clefs are replaced.</param>
    /// <param name="wished">One clef throughout; null chooses.</param>
    /// <param name="usual">What the instrument reads by habit.</param>
    public static Part Dress(Part part, Clef? wished, Clef usual)
    {
        if (part.Bars.IsEmpty) return part;
        var clefs = wished is { } one ? [.. part.Bars.Select(_ => one)] : Cheapest(part.Bars, usual);
        return part with
        {
            Bars = [.. part.Bars.Select((b, i) => b with { Clefs = i == 0 || clefs[i] != clefs[i - 1] ? [new ClefMark(Beats.Zero, clefs[i])] : [] })],
        };
    }

    /// <summary>Ledger lines a pitch needs in a clef, 0 on the staff and right above or below it.</summary>
    /// <param name="pitch">Concert pitch.</param>
    /// <param name="clef">Any; one that transposes is reckoned as it is written.</param>
    public static int LedgerLines(Pitch pitch, Clef clef)
    {
        var written = clef == Clef.TrebleBb ? pitch + Interval.MajorNinth : pitch;
        var above = written.StaffIndex - BottomLine(clef);
        return Math.Max(0, Math.Max(-above / 2, (above - 8) / 2));
    }

    private static int BottomLine(Clef clef) => clef switch
    {
        Clef.Bass => Pitch.Parse("G2").StaffIndex,
        Clef.Tenor => Pitch.Parse("D3").StaffIndex,
        Clef.Alto => Pitch.Parse("F3").StaffIndex,
        Clef.BassOctaveDown => Pitch.Parse("G1").StaffIndex,
        Clef.TrebleOctaveDown => Pitch.Parse("E3").StaffIndex,
        _ => Pitch.Parse("E4").StaffIndex,
    };

    private static ImmutableArray<Clef> Read(Clef usual) => usual switch
    {
        Clef.Bass => [Clef.Bass, Clef.Tenor],
        Clef.Alto => [Clef.Alto, Clef.Bass],
        _ => [usual],
    };

    private static ImmutableArray<Clef> Cheapest(ImmutableArray<Bar> bars, Clef usual)
    {
        var clefs = Read(usual);
        var cost = new double[bars.Length, clefs.Length];
        var from = new int[bars.Length, clefs.Length];
        for (var bar = 0; bar < bars.Length; bar++)
        {
            for (var clef = 0; clef < clefs.Length; clef++)
            {
                if (bar > 0) from[bar, clef] = Before(bar, clef);
                cost[bar, clef] = OfBar(bars[bar], clefs[clef], usual) + (bar == 0 ? 0 : Reached(bar, from[bar, clef], clef));
            }
        }

        var chosen = new Clef[bars.Length];
        var now = Enumerable.Range(0, clefs.Length).MinBy(c => cost[bars.Length - 1, c]);
        for (var bar = bars.Length - 1; bar >= 0; now = from[bar--, now]) chosen[bar] = clefs[now];
        return [.. chosen];

        // Changing wins a tie, so that seen from the end the change is late.
        int Before(int bar, int clef) => Enumerable.Range(0, clefs.Length).OrderBy(c => Reached(bar, c, clef)).ThenBy(c => c == clef).First();

        double Reached(int bar, int before, int clef) => cost[bar - 1, before] + (before == clef ? 0 : OfChange(bars[bar - 1], bars[bar]));
    }

    private static double OfChange(Bar before, Bar bar)
    {
        if (before.Events.OfType<Note>().LastOrDefault() is { TieToNext: true }) return double.PositiveInfinity;
        return bar.Section.Length > 0 ? ChangeAtSection : ChangeInside;
    }

    private static double OfBar(Bar bar, Clef clef, Clef usual) =>
        bar.Events.OfType<Note>().Sum(n => Math.Max(0, LedgerLines(n.Pitch, clef) - 1) + (clef == usual ? 0 : Strange));
}
