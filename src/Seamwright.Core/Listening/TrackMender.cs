namespace Seamwright.Core.Listening;

/// <summary>A pitch's way through one change, as fitted.</summary>
/// <param name="Shape">The way, as a share of the interval.</param>
/// <param name="FromHz">Pitch of the first note.</param>
/// <param name="ToHz">Pitch of the second.</param>
internal sealed record FittedGlide(GlideShape Shape, double FromHz, double ToHz)
{
    /// <summary>Pitch at a time, Hz.</summary>
    public double At(double t) => FromHz * Math.Pow(ToHz / FromHz, Shape.At(t));
}

/// <summary>Puts the fitted ways into the track: a single frame's window blurs a fast change, the fit has taken that blur away.</summary>
internal static class TrackMender
{
    private const double Beyond = 0.03;

    // Cents that a followed way moves where it still stands, and by which a reading beside it is another pitch.
    private const double StandsStill = 5;
    private const double Astray = 20;

    // Where the fit moves less than this within a frame's window, the frame itself is the better witness.
    private const double Still = 8;

    // A reading that repeats itself so well is believed, whatever was fitted.
    private const float Sure = 0.9f;

    public static void Mend(RoughTrack track, IEnumerable<FittedGlide> glides)
    {
        foreach (var glide in glides)
        {
            var (ten, _, ninety) = glide.Shape.Passage();
            var window = 1 / Math.Min(glide.FromHz, glide.ToHz);
            var first = Math.Max(0, (int)Math.Ceiling((ten - Beyond - window) / LiveEar.Hop));
            var last = Math.Min(track.Count - 1, (int)Math.Floor((ninety + Beyond + window) / LiveEar.Hop));
            for (var i = first; i <= last; i++) MendFrame(track, i, glide, window);
        }
    }

    /// <summary>Puts the ways that were followed moment by moment into the track, where they move.</summary>
    public static void Mend(RoughTrack track, IEnumerable<PitchWay> ways)
    {
        foreach (var way in ways)
        {
            var window = Math.Pow(2, -way.Octaves.Min());
            var (start, end) = way.Moving(StandsStill);
            var first = Math.Max(0, (int)Math.Ceiling((start - window) / LiveEar.Hop));
            var last = Math.Min(track.Count - 1, (int)Math.Floor((end + window) / LiveEar.Hop));
            for (var i = first; i <= last; i++)
            {
                var t = i * LiveEar.Hop;
                var here = way.Hz(t);
                var moves = Math.Max(Cents(way.Hz(t - window), here), Cents(way.Hz(t + window), here));
                if (moves > StandsStill || track.Hz[i] <= 0 || Cents(track.Hz[i], here) > Astray) track.Hz[i] = here;
            }
        }
    }

    private static void MendFrame(RoughTrack track, int i, FittedGlide glide, double window)
    {
        var t = i * LiveEar.Hop;
        var here = glide.At(t);
        var moves = Math.Max(Cents(glide.At(t - window), here), Cents(glide.At(t + window), here));
        var lost = track.Hz[i] <= 0 || Cents(track.Hz[i], here) > 40;
        if (track.Strength[i] < Sure && (moves > Still || (lost && !track.Silent[i]))) track.Hz[i] = here;
    }

    private static double Cents(double a, double b) => Math.Abs(1200 * Math.Log2(a / b));
}
