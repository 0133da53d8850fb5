using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>Which readings of a change are one of its two notes, carried along by the arm on its own partial.</summary>
/// <remarks>A slide that moves while the old partial still sounds takes that partial's pitch with it, away from both notes where slide and
/// pitch go opposite ways, and so it does before a valve is turned; so does the new partial while the slide is still on its way. Such a pitch is reached without a jump and lies
/// between the note and its partial in the slide's other place. A partial that was caught is reached by a jump.</remarks>
internal static class CarriedWays
{
    // Cents a millisecond: the fastest arm; a reading may stand for the millisecond after it too.
    private const double Fastest = 6;

    // Milliseconds for which another pitch may be read in between.
    internal const int Lapse = 10;

    // Cents: so far from a note or beyond its way, it is still the note, or on its way.
    private const double Near = 60;
    internal const float Periodic = 0.6f;

    /// <summary>True for each reading of such a way; all false where the part does not say which partials were to sound.</summary>
    public static bool[] Of(Plan plan, NoteChange change, ChangeCurve curve, SteadyNote a, SteadyNote b)
    {
        var carried = new bool[curve.Count];
        if (plan.Notes[change.FromNote].Setting is not { } from || plan.Notes[change.ToNote].Setting is not { } to) return carried;
        Follow(curve, carried, 0, 1, a.Hz, a.Hz * Tube(from, from) / Tube(from, to));
        Follow(curve, carried, curve.Count - 1, -1, b.Hz, b.Hz * Tube(to, to) / Tube(to, from));
        return carried;
    }

    /// <summary>Whether a later reading goes on from an earlier one without a jump.</summary>
    /// <param name="steps">Readings from one to the other.</param>
    /// <param name="earlier">Hz.</param>
    /// <param name="later">Hz.</param>
    public static bool GoesOn(int steps, double earlier, double later) => steps <= Lapse && Cents(earlier, later) < Fastest * (steps + ChangeMeter.PitchEvery - 1);

    // Centimetres of one setting's side with the slide where the other has it.
    private static double Tube(SlideSetting side, SlideSetting slide) => side.Side.EffectiveLength.Value + (2 * slide.Travel.Value);

    // From inside a note outwards, until the pitch jumps or leaves the way.
    private static void Follow(ChangeCurve curve, bool[] carried, int first, int side, double note, double partialThere)
    {
        var (low, high) = (Math.Min(note, partialThere) * Math.Pow(2, -Near / 1200), Math.Max(note, partialThere) * Math.Pow(2, Near / 1200));
        var last = -1;
        for (var i = first; i >= 0 && i < curve.Count; i += side)
        {
            if (curve.Hz[i] <= 0 || curve.Strength[i] < Periodic || curve.Hz[i] < low || curve.Hz[i] > high) continue;
            if (last >= 0 && GoesOn(Math.Abs(i - last), curve.Hz[last], curve.Hz[i]))
            {
                // Low notes are read in small steps: what lies between two readings of the way is of it too.
                for (var k = last + side; k != i + side; k += side) carried[k] |= curve.Hz[k] >= low && curve.Hz[k] <= high;
            }
            else if (Cents(curve.Hz[i], note) > Near) continue;
            last = i;
        }
    }

    private static double Cents(double hz, double other) => Math.Abs(1200 * Math.Log2(hz / other));
}
