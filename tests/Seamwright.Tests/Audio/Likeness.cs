namespace Seamwright.Tests.Audio;

/// <summary>How alike two sounds are.</summary>
internal static class Likeness
{
    /// <summary>By how many samples <paramref name="heard"/> comes later than <paramref name="truth"/>, from the middle of both.</summary>
    public static int Lag(float[] truth, float[] heard, int most)
    {
        var (best, bestSum) = (0, double.MinValue);
        for (var lag = -most; lag <= most; lag++)
        {
            var sum = 0.0;
            for (var i = truth.Length / 3; i < 2 * truth.Length / 3; i++)
            {
                var j = i + lag;
                if (j >= 0 && j < heard.Length) sum += truth[i] * (double)heard[j];
            }

            if (sum > bestSum) (best, bestSum) = (lag, sum);
        }

        return best;
    }

    /// <summary>Level of the middle, dB.</summary>
    public static double Level(float[] sound) =>
        10 * Math.Log10(sound.Skip(sound.Length / 4).Take(sound.Length / 2).Average(x => x * (double)x));

    /// <summary>Sound over difference, dB; over the length of the shorter.</summary>
    public static double Match(float[] truth, float[] heard)
    {
        double sound = 0, difference = 1e-20;
        for (var i = 0; i < Math.Min(truth.Length, heard.Length); i++)
        {
            sound += truth[i] * (double)truth[i];
            difference += Math.Pow(truth[i] - heard[i], 2);
        }

        return 10 * Math.Log10(sound / difference);
    }
}
