using Seamwright.Audio.Decoding;
using Seamwright.Core;

namespace Seamwright.Audio;

/// <summary>Two channels to one, without letting them cancel each other.</summary>
/// <remarks>The choice between the mean and the louder channel is made from the beginning of the file, and made again only where
/// a later stretch speaks clearly against it.</remarks>
internal sealed class ChannelMix(int rate, ProblemLog log)
{
    /// <summary>A channel this much quieter than the other is left out (proposed default 12 dB): it adds noise, not sound.</summary>
    private const double LevelApart = 12;

    /// <summary>Channels less alike than this are not added (correlation, proposed default 0.3): spaced or inverted microphones
    /// would comb the spectrum or cancel.</summary>
    private const double Alike = 0.3;

    // A choice once made is left only where it fails by this much more.
    private const double LevelMargin = 6, AlikeMargin = 0.3;

    // −50 dB, in mean square: so much sound counts as playing.
    private const double Sounding = 1e-5;

    // Seconds of playing that settle a choice.
    private const double Enough = 10;

    // From one choice to another within so many frames, without a click.
    private const int Passage = 1024;

    private Energies heard;
    private double playing;
    private float left, right, toLeft, toRight;
    private int passing;
    private long frames, since;

    private enum Use
    {
        Mean,
        Left,
        Right,
    }

    private Use use;

    /// <summary>Whether enough was looked at for a choice.</summary>
    public bool HasHeardEnough => playing >= Enough;

    /// <summary>Looks at the beginning of the file.</summary>
    public void Look(ReadOnlySpan<float> stereo)
    {
        var block = Energies.Of(stereo);
        heard += block;
        var count = stereo.Length / 2;
        if (block.Louder > Sounding * count) playing += count / (double)rate;
    }

    /// <summary>Chooses by what was looked at.</summary>
    public void Choose()
    {
        use = Choice(heard, out var why, out var hint);
        if (why.Length > 0) log.Say("is stereo and its " + why, hint, Severity.Note);
        (left, right) = Weights(use);
        (toLeft, toRight) = (left, right);
        (heard, playing) = (default, 0);
    }

    /// <summary>Mixes the next frames.</summary>
    /// <param name="stereo">Left and right in turn.</param>
    /// <param name="mono">Half as long.</param>
    public void Process(ReadOnlySpan<float> stereo, Span<float> mono)
    {
        for (var i = 0; i < mono.Length; i++)
        {
            if (passing > 0) Pass();
            mono[i] = (left * stereo[2 * i]) + (right * stereo[(2 * i) + 1]);
        }

        frames += mono.Length;
        Look(stereo);
        if (HasHeardEnough) Reconsider();
    }

    private void Pass()
    {
        left += (toLeft - left) / passing;
        right += (toRight - right) / passing;
        passing--;
    }

    private void Reconsider()
    {
        var louder = heard.Left >= heard.Right ? Use.Left : Use.Right;
        var apart = Math.Abs(10 * Math.Log10(heard.Left / heard.Right));
        var fails = use == Use.Mean
            ? apart > LevelApart + LevelMargin || heard.Correlation < Alike - AlikeMargin
            : louder != use && apart > LevelApart + LevelMargin;
        if (fails)
        {
            use = louder;
            (toLeft, toRight) = Weights(use);
            passing = Passage;
            log.Say($"has other channels from about {since / (double)rate:0} s on than before.", $"From {frames / (double)rate:0.0} s the {Name(use)} one alone is used; levels before and after do not compare.");
        }

        (heard, playing, since) = (default, 0, frames);
    }

    private static Use Choice(Energies heard, out string why, out string hint)
    {
        (why, hint) = ("", "");
        var (l, r) = (heard.Left, heard.Right);
        if (l == 0 && r == 0) return Use.Mean;
        var louder = l >= r ? Use.Left : Use.Right;
        var apart = Math.Abs(10 * Math.Log10(l / r));
        if (apart > LevelApart)
        {
            var other = Math.Min(l, r) == 0 ? "is silent" : $"is {apart:0} dB quieter";
            why = $"{Name(louder == Use.Left ? Use.Right : Use.Left)} channel {other}.";
            hint = $"Only the {Name(louder)} one is used.";
            return louder;
        }

        if (heard.Correlation >= Alike) return Use.Mean;
        var how = heard.Correlation < -0.5 ? "are opposite in phase" : "differ";
        why = $"channels {how} (correlation {heard.Correlation:0.00}).";
        hint = $"Adding them would cancel sound, so only the louder one ({Name(louder)}) is used.";
        return louder;
    }

    private static (float Left, float Right) Weights(Use use) => use switch
    {
        Use.Left => (1, 0),
        Use.Right => (0, 1),
        _ => (0.5f, 0.5f),
    };

    private static string Name(Use use) => use == Use.Left ? "left" : "right";

    private readonly record struct Energies(double Left, double Right, double Both)
    {
        public double Louder => Math.Max(Left, Right);

        public double Correlation => Left == 0 || Right == 0 ? 0 : Both / Math.Sqrt(Left * Right);

        public static Energies operator +(Energies a, Energies b) => new(a.Left + b.Left, a.Right + b.Right, a.Both + b.Both);

        public static Energies Of(ReadOnlySpan<float> stereo)
        {
            double l = 0, r = 0, both = 0;
            for (var i = 0; i + 1 < stereo.Length; i += 2)
            {
                l += (double)stereo[i] * stereo[i];
                r += (double)stereo[i + 1] * stereo[i + 1];
                both += (double)stereo[i] * stereo[i + 1];
            }

            return new Energies(l, r, both);
        }
    }
}
