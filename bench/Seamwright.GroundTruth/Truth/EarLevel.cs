namespace Seamwright.GroundTruth.Truth;

/// <summary>The envelope as an ear's window shows it: power averaged over 13 ms (equivalent rectangular duration at 300 Hz, Plack and
/// Moore, J. Acoust. Soc. Am. 1990), or over whole periods, at least two, where those are longer.</summary>
/// <remarks>Written apart from the listener's own code, so that an error there does not hide itself.</remarks>
internal sealed class EarLevel
{
    private const double Ear = 0.013;
    private readonly double[] running;
    private readonly Curves curves;

    public EarLevel(Curves curves)
    {
        this.curves = curves;
        running = new double[curves.Count + 1];
        for (var i = 0; i < curves.Count; i++) running[i + 1] = running[i] + Math.Pow(10, curves.LevelAt(i) / 10);
    }

    /// <summary>dB against full scale at a place of the curves.</summary>
    public double At(int place)
    {
        var half = (int)Math.Round(Window(curves.HertzAt(place)) / Curves.Step / 2);
        var from = Math.Max(0, place - half);
        var to = Math.Min(curves.Count, place + half + 1);
        return 10 * Math.Log10(Math.Max(1e-15, (running[to] - running[from]) / (to - from)));
    }

    private static double Window(double hz) => Math.Max(2, Math.Ceiling(Ear * hz)) / hz;
}
