namespace Seamwright.Core.Listening;

/// <summary>Reads every frame again, in the window that suits its pitch and what happens about it.</summary>
/// <remarks>Where the rough path stands still, many periods are compared, for a figure that noise cannot move; where it moves, only
/// two, so that nothing is smeared; where it is interrupted for a moment or begins late, the pitch is looked for between its
/// neighbours' pitches.</remarks>
internal sealed class TrackReader(SampleStore samples, ListeningSettings settings)
{
    private const double Hop = LiveEar.Hop;

    private readonly Excerpt excerpt = new(samples);

    // Frames read from one excerpt, and how far to either side of a frame the sound may be needed.
    private const int FramesAtOnce = 2000;
    private const double Margin = 0.15;

    // The rough window reaches 32 ms to either side; what moves beyond it does not concern a frame.
    private const int Reach = 8;
    private const double Still = 1.03;
    private const double Spread = 1.035;
    private const float LeastStrength = 0.55f;
    private const double SteadyWindow = 0.05;

    private const double Highest = 1200;
    private const float SureHigher = 0.9f;
    private const float AsGood = 0.985f;

    // An interruption no longer than this is bridged; a note's end is followed as far.
    private const int Bridge = 16;
    private const double QuietestTone = -75;

    /// <param name="rough">The path, Hz or 0.</param>
    /// <param name="strength">Its correlation; what is read again replaces it.</param>
    /// <param name="candidates">What else each frame may be.</param>
    /// <param name="without">Whether the path was laid through sound of which something has been taken out since.</param>
    public RoughTrack Read(float[] rough, float[] strength, CandidateStore candidates, bool without)
    {
        var hz = Array.ConvertAll(rough, x => (double)x);
        var db = new double[rough.Length];
        for (var from = 0; from < rough.Length; from += FramesAtOnce)
        {
            var to = Math.Min(rough.Length, from + FramesAtOnce);
            excerpt.Load((from * Hop) - Margin, (to * Hop) + Margin);
            for (var i = from; i < to; i++) ReadFrame(excerpt, i, rough, strength, hz);
            for (var i = from; i < to; i++) db[i] = excerpt.Energy.Db(i * Hop, hz[i] > 0 ? Energy.Window(settings.EarWindow.Value, 1 / hz[i]) : Math.Max(settings.EarWindow.Value, 0.02));
        }

        var silent = Silences(db);
        for (var i = 0; i < hz.Length; i++)
        {
            if (silent[i] && (without || rough[i] <= 0)) hz[i] = 0;
        }

        return new RoughTrack(hz, strength, db, silent, candidates);
    }

    private static void ReadFrame(Excerpt part, int i, float[] rough, float[] strength, double[] hz)
    {
        var (low, high) = Range(rough, i);
        if (low <= 0) return;
        var time = i * Hop;
        var found = high <= low * Still && rough[i] > 0 ? Steady(part.Fine, time, rough[i]) : default;
        if (found.Strength < LeastStrength) found = part.Fine.At(time, low / Spread, high * Spread, 1 / low);
        if (found.Strength < LeastStrength || found.Hz <= 0) return;
        found = Higher(part.Fine, time, found);
        (hz[i], strength[i]) = (found.Hz, found.Strength);
    }

    // A tone also repeats at twice and three times its period, and a path that expects the part's pitches may have taken that.
    private static Candidate Higher(FinePitch fine, double time, Candidate found)
    {
        foreach (var times in (ReadOnlySpan<double>)[3, 2])
        {
            if (found.Hz * times > Highest) continue;
            var c = fine.At(time, found.Hz * times / Spread, found.Hz * times * Spread, 2 / found.Hz);
            if (c.Hz > 0 && c.Strength >= Math.Max(SureHigher, AsGood * found.Strength)) return c;
        }

        return found;
    }

    private static Candidate Steady(FinePitch fine, double time, double hz)
    {
        var half = Math.Max(SteadyWindow, 4 / hz) / 2;
        return fine.Steady(time - half, time + half, hz);
    }

    // The lowest and highest rough pitch within reach of a frame, 0 where there is none.
    private static (float Low, float High) Range(float[] rough, int i)
    {
        var (low, high) = (0f, 0f);
        var reach = rough[i] > 0 ? Reach : Bridge;
        for (var k = Math.Max(0, i - reach); k <= Math.Min(rough.Length - 1, i + reach); k++)
        {
            if (rough[k] <= 0) continue;
            low = low == 0 ? rough[k] : Math.Min(low, rough[k]);
            high = Math.Max(high, rough[k]);
        }

        return (low, high);
    }

    private bool[] Silences(double[] db)
    {
        var loud = OrderStatistic.At(db, (int)(0.98 * (db.Length - 1)));
        var limit = Math.Max(QuietestTone, loud - settings.SilenceBelowPeak.Value);
        return Array.ConvertAll(db, d => d < limit);
    }
}
