namespace Seamwright.Core.Listening.Free;

/// <summary>What a player is tuned to, from the notes alone.</summary>
/// <remarks>Notes lie near a grid of equal semitones; where the grid lies is the tuning. It is known only up to whole semitones, so the
/// nearest to the instrument's own is taken; one or two pitches alone fit every tuning.</remarks>
internal static class PlayersTuning
{
    private const int FewestPitches = 3;
    private const double LeastAgreement = 0.5;
    private const int MostFrames = 200;

    /// <summary>Cents of A4 against 440 Hz; null where the notes do not tell.</summary>
    /// <param name="notes">Held notes.</param>
    /// <param name="instrument">Cents of the instrument's A4 against 440 Hz.</param>
    public static double? Of(List<HeldNote> notes, double instrument)
    {
        var (x, y, all) = (0.0, 0.0, 0.0);
        foreach (var n in notes)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * (n.Pitch - (instrument / 100)));
            var weight = Math.Min(n.Frames, MostFrames);
            (x, y, all) = (x + (weight * cos), y + (weight * sin), all + weight);
        }

        if (all == 0 || Math.Sqrt((x * x) + (y * y)) < LeastAgreement * all) return null;
        var rough = Math.Atan2(y, x) / (2 * Math.PI);
        double Off(HeldNote n) => n.Pitch - (instrument / 100) - rough;
        if (notes.Select(n => Math.Round(Off(n))).Distinct().Count() < FewestPitches) return null;
        var rest = WeightedMedian(notes.Select(n => (Off(n) - Math.Round(Off(n)), Math.Min(n.Frames, MostFrames))));
        return instrument + (100 * (rough + rest));
    }

    private static double WeightedMedian(IEnumerable<(double Value, int Weight)> values)
    {
        var sorted = values.OrderBy(v => v.Value).ToList();
        var half = sorted.Sum(v => (long)v.Weight) / 2;
        var sum = 0L;
        return sorted.First(v => (sum += v.Weight) > half).Value;
    }
}
