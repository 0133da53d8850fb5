using Seamwright.Core.Sound;

namespace Seamwright.GroundTruth.Making;

/// <summary>One slur in one breath, clean or with a wrong partial caught on the way. Base-2 logarithms of Hz, seconds, dB.</summary>
/// <param name="From">The note before.</param>
/// <param name="To">The note after.</param>
/// <param name="Wrong">What is caught.</param>
/// <param name="Length">For how long; 0 where the slur is clean.</param>
/// <param name="Dips">Depth of the break to what is caught, and of the break away from it; a clean slur has the first alone.</param>
/// <param name="DipWidth">Of each, at half its depth.</param>
/// <param name="Jump">Length of a break, raised cosine.</param>
/// <param name="Lead">Middle of the change against the middle of the phrase.</param>
internal sealed record CrackedSlur(double From, double To, double Wrong, double Length, (double First, double Second) Dips, double DipWidth, double Jump, double Lead)
{
    private const double OrdinaryDb = -26, SilenceDb = 80, Release = 0.05, Settled = 0.5;

    /// <summary>Plays it.</summary>
    /// <param name="voice">Of any kind.</param>
    /// <param name="joined">Whether each pitch is a held note of its own; else one note is bent.</param>
    /// <param name="seconds">Of the whole, at least 0.5.</param>
    /// <returns>Samples, ±1.</returns>
    public float[] Play(IVoice voice, bool joined, double seconds)
    {
        var samples = joined ? Joined(voice, seconds) : voice.Render(Pitch(seconds), seconds + 0.1).Samples;
        var middle = (seconds / 2) + Lead;
        var shapes = new List<LevelShape> { LevelShape.Silence(seconds - Release, 1e6, SilenceDb, Release, Release), LevelShape.Dip(middle - (Length / 2), DipWidth, Dips.First) };
        if (Length > 0) shapes.Add(LevelShape.Dip(middle + (Length / 2), DipWidth, Dips.Second));
        for (var i = 0; i < samples.Length; i++) samples[i] *= (float)Math.Pow(10, (OrdinaryDb + shapes.Sum(s => s.At(i / (double)voice.Rate))) / 20);
        return samples;
    }

    private Func<double, double> Pitch(double seconds) => t =>
    {
        var (first, second) = Shares(t, (seconds / 2) + Lead);
        return Length > 0 ? From + ((Wrong - From) * first) + ((To - Wrong) * second) : From + ((To - From) * first);
    };

    // Notes that were held long before, each faded into the next in the time of a break.
    private float[] Joined(IVoice voice, double seconds)
    {
        var (from, to) = (voice.Render(_ => From, seconds + 0.1).Samples, voice.Render(_ => To, seconds + Settled).Samples);
        var wrong = Length > 0 ? voice.Render(_ => Wrong, seconds + Settled).Samples : to;
        var skip = (int)(Settled * voice.Rate);
        var samples = new float[(int)((seconds + 0.1) * voice.Rate)];
        for (var i = 0; i < samples.Length; i++)
        {
            var (first, second) = Shares(i / (double)voice.Rate, (seconds / 2) + Lead);
            samples[i] = (float)((Sample(from, i) * (1 - first)) + (Sample(wrong, i + skip) * (first - second)) + (Sample(to, i + skip) * second));
        }

        return samples;
    }

    // How much of each break is done.
    private (double First, double Second) Shares(double t, double middle) => (Share(t - middle + (Length / 2)), Share(t - middle - (Length / 2)));

    private double Share(double t) => (1 - Math.Cos(Math.PI * Math.Clamp((t / Jump) + 0.5, 0, 1))) / 2;

    private static float Sample(float[] samples, int i) => i < samples.Length ? samples[i] : 0;
}
