using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>Two channels to one, without letting them cancel each other.</summary>
internal static class ChannelMix
{
    /// <summary>A channel this much quieter than the other is left out (proposed default 12 dB): it adds noise, not sound.</summary>
    private const double LevelApart = 12;

    /// <summary>Channels less alike than this are not added (correlation, proposed default 0.3): spaced or inverted microphones
    /// would comb the spectrum or cancel.</summary>
    private const double Alike = 0.3;

    /// <summary>The mean of two like channels, else the louder one, with a problem that says so.</summary>
    public static float[] ToMono(float[][] channels, WavLayout layout, string name, List<Problem> problems)
    {
        if (layout.Channels == 1) return channels[0];
        float[] left = channels[0], right = channels[1];
        var (l, r, both) = Energies(left, right);
        if (l == 0 && r == 0) return left;
        var leftIsLouder = l >= r;
        var louder = leftIsLouder ? left : right;
        var side = leftIsLouder ? "left" : "right";
        var apart = Math.Abs(10 * Math.Log10(l / r));
        if (apart > LevelApart)
        {
            var other = Math.Min(l, r) == 0 ? "is silent" : $"is {apart:0} dB quieter";
            problems.Add(new Problem(name, $"is stereo and its {(leftIsLouder ? "right" : "left")} channel {other}.", $"Only the {side} one is used.", Severity.Note));
            return louder;
        }

        var correlation = both / Math.Sqrt(l * r);
        if (correlation < Alike)
        {
            var how = correlation < -0.5 ? "are opposite in phase" : "differ";
            problems.Add(new Problem(name, $"is stereo and its channels {how} (correlation {correlation:0.00}).", $"Adding them would cancel sound, so only the louder one ({side}) is used.", Severity.Note));
            return louder;
        }

        for (var i = 0; i < left.Length; i++) left[i] = (left[i] + right[i]) / 2;
        return left;
    }

    private static (double Left, double Right, double Both) Energies(float[] left, float[] right)
    {
        double l = 0, r = 0, both = 0;
        for (var i = 0; i < left.Length; i++)
        {
            l += (double)left[i] * left[i];
            r += (double)right[i] * right[i];
            both += (double)left[i] * right[i];
        }

        return (l, r, both);
    }
}
