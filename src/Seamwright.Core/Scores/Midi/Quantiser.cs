using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Midi;

/// <summary>From ticks to places that can be written.</summary>
/// <remarks><para>A line is <em>written</em> where nine tenths of its onsets lie within a tick of a note value (sixteenths of a quarter note,
/// triplets, quintuplets, septuplets); else it was <em>played</em>.</para>
/// <para>Each quarter note has a grid of its own. In a written line it is the coarsest one on which all its onsets lie. In a played one,
/// and where a written one has none, it is sixteenths or eighth-note triplets, whichever has the smaller sum of squared errors (sixteenths
/// where they are equal); where two notes would fall on one place, twice as fine.</para>
/// <para>A note ends where the next begins if it sounds on until then, or if the gap is shorter than a quarter of the way to the next onset
/// or than a 32nd: players and programs lift a note a little early. A written end that leaves a 32nd or more is kept.</para>
/// <para>The rules are our own. For the problem and other ways see E. Cambouropoulos, "From MIDI to Traditional Musical Notation" (AAAI
/// Workshop on Artificial Intelligence and Music, 2000).</para></remarks>
internal sealed class Quantiser
{
    private static readonly int[] WrittenGrids = [1, 2, 3, 4, 6, 8, 12, 16, 5, 7];

    private readonly int quarter;
    private readonly bool isWritten;
    private readonly Dictionary<long, int> gridOf = [];

    /// <summary>Looks at a line's onsets.</summary>
    /// <param name="onsets">Ticks, ascending.</param>
    /// <param name="ticksPerQuarter">More than 0.</param>
    public Quantiser(IReadOnlyList<long> onsets, int ticksPerQuarter)
    {
        quarter = ticksPerQuarter;
        isWritten = onsets.Count(o => Array.Exists(WrittenGrids, g => IsOn(o, g))) * 10 >= onsets.Count * 9;
        foreach (var beat in onsets.Distinct().GroupBy(o => o / quarter)) gridOf[beat.Key] = GridFor([.. beat]);
    }

    /// <summary>Where an onset is written.</summary>
    public Beats Onset(long tick) => On(tick, gridOf.GetValueOrDefault(tick / quarter, 4));

    /// <summary>Where a note ends.</summary>
    /// <param name="on">Its tick.</param>
    /// <param name="off">Its last tick, later than <paramref name="on"/>.</param>
    /// <param name="next">The tick of the next onset; null for the last note.</param>
    /// <returns>Later than its onset as written, at most the next onset.</returns>
    public Beats End(long on, long off, long? next)
    {
        var start = Onset(on);
        var least = start + new Beats(1, gridOf.GetValueOrDefault(on / quarter, 4));
        if (next is { } n)
        {
            var until = Onset(n);
            var end = off >= n || IsLifted(on, off, n) ? until : Released(off);
            return end <= start ? Min(least, until) : Min(end, until);
        }

        var last = Released(off);
        return last <= start ? least : last;
    }

    private bool IsLifted(long on, long off, long next)
    {
        var gap = next - off;
        if (isWritten && gap * 8 >= quarter && Array.Exists(WrittenGrids, g => IsOn(off, g))) return false;
        return gap * 4 < next - on || gap * 8 < quarter;
    }

    private Beats Released(long off)
    {
        if (isWritten)
        {
            foreach (var grid in WrittenGrids)
            {
                if (IsOn(off, grid)) return On(off, grid);
            }
        }

        return On(off, gridOf.GetValueOrDefault(off / quarter, 4) is 3 or 6 or 12 ? 6 : 4);
    }

    private int GridFor(List<long> onsets)
    {
        var written = isWritten ? Array.Find(WrittenGrids, g => onsets.TrueForAll(o => IsOn(o, g))) : 0;
        if (written > 0) return written;
        var straight = Error(onsets, 4) <= Error(onsets, 3);
        var grid = straight ? 4 : 3;
        return onsets.Select(o => On(o, grid)).Distinct().Count() < onsets.Count ? 2 * grid : grid;
    }

    private double Error(List<long> onsets, int grid) => onsets.Sum(o => Math.Pow((o / (double)quarter) - On(o, grid).ToDouble(), 2));

    // The nearest place of a grid; files round to whole ticks, coarse ones no further than half a tick.
    private Beats On(long tick, int grid) => new(((2 * tick * grid) + quarter) / (2 * quarter), grid);

    private bool IsOn(long tick, int grid)
    {
        var place = On(tick, grid);
        var off = Math.Abs((tick * grid) - (long)(place.Numerator * quarter * grid / place.Denominator));
        return quarter >= 96 ? off < grid : 2 * off <= grid;
    }

    private static Beats Min(Beats a, Beats b) => a < b ? a : b;
}
