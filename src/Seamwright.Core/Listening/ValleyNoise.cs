namespace Seamwright.Core.Listening;

/// <summary>The room's noise as it stands between the harmonics of held notes: where a take has no rest nothing else shows it.</summary>
/// <remarks>A held tone has nothing half way between its harmonics, seen through a window whose main lobe is narrower than half of their distance
/// (Blackman, three bins; Harris, Proc. IEEE 66 (1978)). Powers there are collected over all notes, third of an octave by third of an octave; of each the
/// lower quartile counts, since vibrato, breath and a room's tail add to some notes and noise to all. That is the noise's density at most: the player's own
/// breath is in it.</remarks>
internal static class ValleyNoise
{
    private const double Hop = LiveEar.Hop;

    // Seconds of a note's beginning and end left out; periods in a window, and its longest, seconds; Hz up to which is looked.
    private const double Edge = 0.08, Periods = 10, Longest = 0.3, Highest = 5000;
    private const int MostNotes = 40, FewestReadings = 12, Quartile = 4;

    // A power of two degrees of freedom lies below −ln(3/4) of its mean in a quarter of cases.
    private static readonly double QuartileToMean = -1 / Math.Log(0.75);

    // Mean square of a Blackman window over the square of its mean: bins of noise it lets through.
    private const double NoiseBins = 1.727;

    /// <summary>dB against full scale, the whole band; null where too few notes are long enough.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="track">Its pitch.</param>
    /// <param name="notes">All notes heard.</param>
    public static double? Of(SampleStore samples, RoughTrack track, IReadOnlyList<Stretch> notes)
    {
        var bands = new SortedDictionary<int, List<double>>();
        var step = Math.Max(1, (notes.Count + MostNotes - 1) / MostNotes);
        for (var n = 0; n < notes.Count; n += step) Read(samples, track, notes[n], bands);
        var read = bands.Where(b => b.Value.Count > 0).Select(b => (Hz: Math.Pow(2, b.Key / 3.0), Density: QuartileToMean * OrderStatistic.At(b.Value, b.Value.Count / Quartile))).ToList();
        if (bands.Sum(b => b.Value.Count) < FewestReadings) return null;
        var (power, at) = (0.0, 0.0);
        for (var i = 0; i < read.Count; i++)
        {
            var until = i + 1 < read.Count ? Math.Sqrt(read[i].Hz * read[i + 1].Hz) : Highest;
            power += read[i].Density * (until - at);
            at = until;
        }

        return Energy.ToDb(power);
    }

    private static void Read(SampleStore samples, RoughTrack track, Stretch note, SortedDictionary<int, List<double>> bands)
    {
        double[] hz = [.. Enumerable.Range(note.From, Math.Max(0, Math.Min(track.Count, note.To) - note.From)).Select(i => track.Hz[i]).Where(h => h > 0)];
        if (hz.Length < 5) return;
        var pitch = OrderStatistic.Median(hz);
        var (from, to) = ((note.From * Hop) + Edge, (note.To * Hop) - Edge);
        var length = Math.Min(Longest, to - from);
        if (length < Periods / pitch) return;
        var block = new float[(int)(length * FinePitch.Rate)];
        samples.CopyTo((long)((((from + to) / 2) - (length / 2)) * FinePitch.Rate), block);
        for (var i = 0; i < block.Length; i++) block[i] *= (float)((0.42 - (0.5 * Math.Cos(2 * Math.PI * i / block.Length)) + (0.08 * Math.Cos(4 * Math.PI * i / block.Length))) / (0.42 * block.Length));
        for (var k = 0.5; k * pitch < Highest; k++)
        {
            // What a window of one bin's width shows of noise, over that width: both sides of the spectrum.
            var density = 2 * ToneReader.PowerAt(block, k * pitch) * length / NoiseBins;
            var band = (int)Math.Round(3 * Math.Log2(k * pitch));
            if (!bands.TryGetValue(band, out var list)) bands[band] = list = [];
            list.Add(density);
        }
    }
}
