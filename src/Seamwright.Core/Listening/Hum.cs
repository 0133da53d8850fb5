using System.Numerics;

namespace Seamwright.Core.Listening;

/// <summary>The mains' hum in a recording: a few lines at multiples of 50 or 60 Hz that never stop.</summary>
/// <param name="Hz">Of the first line.</param>
/// <param name="Db">Level of all lines together, dB re full scale.</param>
internal sealed record Hum(double Hz, double Db);

/// <summary>Finds the mains' hum in the rests of a recording and takes it out of the whole.</summary>
/// <remarks>A hum is believed where the quietest moments consist of such lines, all equally strong, with one frequency within a quarter of a hertz of
/// 50 or 60. Its amplitudes and phases are read in the rests and carried on between them (lines of unchanging amplitude, the frequency
/// refined from rest to rest); where the next rest is too far for the phase to be sure, nothing is taken out.</remarks>
internal sealed class HumTaker
{
    private const int Rate = FinePitch.Rate;

    /// <summary>Samples of one reading, 0.256 s: lines lie twelve readings' widths apart.</summary>
    private const int Block = 4096;
    private const int Lines = 12;
    private const int FewestRests = 3;

    // The quietest moments, and how much louder the rest of the recording must be somewhere.
    private const double QuietShare = 0.05;
    private const double AlikeTimes = 2;
    private const double LouderTimes = 4;
    private const double LoudShare = 0.9;

    // 30 dB: what lies deeper under the notes puts nothing in doubt.
    private const double MattersTimes = 1000;

    // Of the power in a rest, what must lie in the lines.
    private const double LeastShare = 0.6;
    private const double MostOff = 0.25;

    // The strongest line of a hum is one of the first three (counted from 0); of a note that happens to lie there it may be any.
    private const int HighestStrongest = 2;
    private const double Coherent = 0.9;
    private const int FurthestRests = 80;

    private readonly SampleStore samples;
    private readonly float[] block = new float[Block];
    private readonly float[] window = [.. Enumerable.Range(0, Block).Select(i => (float)(1 - Math.Cos(2 * Math.PI * (i + 0.5) / Block)))];

    private HumTaker(SampleStore samples) => this.samples = samples;

    /// <summary>Takes the hum out; null where there is none.</summary>
    public static Hum? TakeOut(SampleStore samples) => new HumTaker(samples).TakeOut();

    private Hum? TakeOut()
    {
        var rests = Rests();
        if (rests.Count < FewestRests) return null;
        foreach (var mains in (ReadOnlySpan<double>)[50, 60])
        {
            var lines = rests.ConvertAll(r => Read(r.At, mains));
            var shares = rests.Zip(lines, (r, l) => l.Sum(a => a.Magnitude * a.Magnitude / 2) / r.Power).Order().ToArray();
            if (shares[shares.Length / 2] < LeastShare) continue;
            if (Frequency(rests.ConvertAll(r => r.At), lines, mains) is not var (hz, furthest)) continue;
            var at = rests.ConvertAll(r => r.At);
            lines = at.ConvertAll(a => Read(a, hz));
            Subtract(at, lines, hz, furthest);
            return new Hum(hz, Energy.ToDb(lines.Average(l => l.Sum(a => a.Magnitude * a.Magnitude / 2))));
        }

        return null;
    }

    private List<(int At, double Power)> Rests()
    {
        var count = (int)(samples.Length / Block);
        var powers = new double[count];
        for (var b = 0; b < count; b++)
        {
            samples.CopyTo((long)b * Block, block);
            powers[b] = Vectors.Dot(block, block) / Block;
        }

        if (count == 0) return [];
        var quietest = Math.Max(OrderStatistic.At(powers, (int)(QuietShare * (count - 1))), 1e-10);
        var loud = OrderStatistic.At(powers, (int)(LoudShare * (count - 1)));
        if (loud < LouderTimes * quietest || loud > MattersTimes * quietest) return [];
        return [.. Enumerable.Range(0, count).Where(b => powers[b] <= AlikeTimes * quietest && powers[b] > 0).Select(b => (b, powers[b]))];
    }

    // Amplitude and phase of every line in one reading, the phase against a line of that frequency that began with the recording.
    private Complex[] Read(int at, double hz)
    {
        samples.CopyTo((long)at * Block, block);
        var found = new Complex[Lines];
        for (var k = 1; k <= Lines; k++)
        {
            var turn = Complex.FromPolarCoordinates(1, -2 * Math.PI * k * hz / Rate);
            var phase = Complex.FromPolarCoordinates(1, -2 * Math.PI * (k * hz * (double)at * Block / Rate % 1));
            var sum = Complex.Zero;
            for (var i = 0; i < Block; i++)
            {
                sum += window[i] * block[i] * phase;
                phase *= turn;
            }

            found[k - 1] = 2 * sum / Block;
        }

        return found;
    }

    // From neighbouring rests to ever further ones, as far as all agree.
    private static (double Hz, int Furthest)? Frequency(List<int> at, List<Complex[]> lines, double mains)
    {
        var strongest = Enumerable.Range(0, Lines).MaxBy(k => lines.Sum(l => l[k].Magnitude));
        if (strongest > HighestStrongest) return null;
        var (hz, furthest) = (mains, 0);
        for (var far = 1; far <= FurthestRests; far *= 2)
        {
            var (sum, all) = (Complex.Zero, 0.0);
            for (var i = 0; i < at.Count; i++)
            {
                for (var j = i + 1; j < at.Count && at[j] - at[i] < 2 * far; j++)
                {
                    if (at[j] - at[i] < far) continue;
                    var turned = lines[j][strongest] * Complex.Conjugate(lines[i][strongest]) * Complex.FromPolarCoordinates(1, -2 * Math.PI * (strongest + 1) * (hz - mains) * (at[j] - at[i]) * Block / Rate);
                    sum += turned;
                    all += turned.Magnitude;
                }
            }

            if (all == 0) continue;
            if (sum.Magnitude < Coherent * all) break;
            hz += sum.Phase / (2 * Math.PI * (strongest + 1) * 1.4 * far * Block / Rate);
            if (Math.Abs(hz - mains) > MostOff) return null;
            furthest = 2 * far;
        }

        return furthest > 0 ? (hz, furthest) : null;
    }

    private void Subtract(List<int> at, List<Complex[]> lines, double hz, int furthest)
    {
        var count = (int)((samples.Length + Block - 1) / Block);
        var turns = Enumerable.Range(1, Lines).Select(k => Complex.FromPolarCoordinates(1, 2 * Math.PI * k * hz / Rate)).ToArray();
        for (int b = 0, next = 0; b < count; b++)
        {
            while (next < at.Count && at[next] < b) next++;
            var (before, after) = (next < at.Count && at[next] == b ? next : next - 1, next);
            if ((before < 0 || b - at[before] > furthest) && (after >= at.Count || at[after] - b > furthest)) continue;
            if (before < 0) before = after;
            if (after >= at.Count) after = before;
            var share = after == before ? 0 : (b - at[before]) / (double)(at[after] - at[before]);
            var length = (int)Math.Min(Block, samples.Length - ((long)b * Block));
            samples.CopyTo((long)b * Block, block.AsSpan(0, length));
            for (var k = 0; k < Lines; k++)
            {
                var line = ((1 - share) * lines[before][k]) + (share * lines[after][k]);
                line *= Complex.FromPolarCoordinates(1, 2 * Math.PI * ((k + 1) * hz * b * Block / Rate % 1));
                for (var i = 0; i < length; i++)
                {
                    block[i] -= (float)line.Real;
                    line *= turns[k];
                }
            }

            samples.Replace((long)b * Block, block.AsSpan(0, length));
        }
    }
}
