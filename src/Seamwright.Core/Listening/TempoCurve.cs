using Seamwright.Core.Planning;

namespace Seamwright.Core.Listening;

/// <summary>The player's tempo along one pass: seconds of the take to a second of the plan, note by note.</summary>
/// <remarks>A running median over neighbouring notes, so that it follows rubato and drift and passes over a stumble.</remarks>
internal sealed class TempoCurve
{
    private const int Reach = 4;

    private readonly Plan plan;
    private readonly double[] ratios;

    /// <param name="plan">The part.</param>
    /// <param name="onsets">Notes and the seconds at which they begin, in order.</param>
    /// <param name="otherwise">Where fewer than two notes tell.</param>
    public TempoCurve(Plan plan, IReadOnlyList<(int Note, double Time)> onsets, double otherwise)
    {
        this.plan = plan;
        var overall = Overall(onsets) ?? otherwise;
        ratios = new double[plan.Notes.Length];
        var first = 0;
        for (var i = 0; i < ratios.Length; i++)
        {
            while (first < onsets.Count && onsets[first].Note < i - Reach) first++;
            ratios[i] = Local(onsets, first, i + Reach) ?? overall;
        }
    }

    /// <summary>Around one note.</summary>
    public double At(int note) => ratios[note];

    /// <summary>Seconds from one note's beginning to a later one's, as this player would play them.</summary>
    public double Between(int a, int b) =>
        (plan.Notes[b].Note.StartTime.Value - plan.Notes[a].Note.StartTime.Value) * Math.Sqrt(ratios[a] * ratios[b]);

    /// <summary>Seconds a note should last.</summary>
    public double Lasting(int note) => plan.Notes[note].Note.Duration.Value * ratios[note];

    private double? Overall(IReadOnlyList<(int Note, double Time)> onsets) => Local(onsets, 0, int.MaxValue);

    private double? Local(IReadOnlyList<(int Note, double Time)> onsets, int from, int last)
    {
        var found = new List<double>();
        for (var a = from; a < onsets.Count && onsets[a].Note <= last; a++)
        {
            for (var b = a + 1; b < Math.Min(onsets.Count, a + Reach) && onsets[b].Note <= last; b++)
            {
                var planned = plan.Notes[onsets[b].Note].Note.StartTime.Value - plan.Notes[onsets[a].Note].Note.StartTime.Value;
                if (planned > 0 && onsets[b].Time > onsets[a].Time) found.Add((onsets[b].Time - onsets[a].Time) / planned);
            }
        }

        if (found.Count == 0) return null;
        found.Sort();
        return Math.Clamp(found[found.Count / 2], 0.1, 10);
    }
}
