using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Rooms;

/// <summary>What a room does when single reflections can no longer be told: noise-like, falling by 60 dB in the room's time.</summary>
/// <remarks>Sixteen delay lines, about as long as sound needs from wall to wall (mean free path 4V/S), that feed one another through a Householder
/// matrix, which loses nothing (Jot and Chaigne, AES Convention 90 (1991) 3030); each line alone loses what its length is worth. Lengths and signs
/// come from a fixed seed. Allocates nothing after construction.</remarks>
internal sealed class DiffuseTail
{
    private const int Lines = 16;
    private const uint Seed = 20_261;

    // In a very small room walls follow so quickly that single echoes would ring: metal.
    private const double ShortestMean = 0.012;

    private readonly float[][] lines = new float[Lines][];
    private readonly double[] keeps = new double[Lines], signs = new double[Lines], outs = new double[Lines];
    private readonly int[] places = new int[Lines];
    private readonly float[] before;
    private readonly double gain;
    private int waiting;

    /// <param name="room">Whose tail.</param>
    /// <param name="rate">Samples a second.</param>
    public DiffuseTail(Room room, SampleRate rate)
    {
        var noise = new SeededNoise(Seed);
        var mean = Math.Max(ShortestMean, 4 * room.Volume / room.Surface / Room.SpeedOfSound);
        for (var i = 0; i < Lines; i++)
        {
            var seconds = mean * (0.5 + ((i + (0.5 * noise.Uniform())) / Lines));
            lines[i] = new float[Math.Max(2, (int)(seconds * rate.Value))];
            keeps[i] = Math.Pow(10, -3 * lines[i].Length / (rate.Value * room.Decay.Value));
            signs[i] = noise.Uniform() < 0 ? -1 : 1;
        }

        // What went in comes out of the shortest line first.
        before = new float[Math.Max(1, (int)(room.Mixing.Value * rate.Value) - lines.Min(l => l.Length))];
        gain = Math.Sqrt(room.EnergyAfter(room.Mixing) / Energy((int)(1.2 * room.Decay.Value * rate.Value)));
        Reset();
    }

    /// <summary>The tail's next sample.</summary>
    /// <param name="input">Straight sound.</param>
    public double Next(float input)
    {
        var delayed = before[waiting];
        before[waiting] = input;
        waiting = waiting + 1 == before.Length ? 0 : waiting + 1;
        return gain * Turn(delayed);
    }

    /// <summary>Silence again.</summary>
    public void Reset()
    {
        foreach (var line in lines) Array.Clear(line);
        Array.Clear(before);
    }

    private double Turn(double input)
    {
        var (all, sum) = (0.0, 0.0);
        for (var i = 0; i < Lines; i++)
        {
            outs[i] = keeps[i] * lines[i][places[i]];
            (all, sum) = (all + outs[i], sum + (signs[i] * outs[i]));
        }

        for (var i = 0; i < Lines; i++)
        {
            lines[i][places[i]] = (float)(input + outs[i] - (2.0 / Lines * all));
            if (++places[i] == lines[i].Length) places[i] = 0;
        }

        return sum;
    }

    // Of the answer to one sample of 1, without the gain.
    private double Energy(int samples)
    {
        var sum = 0.0;
        for (var i = 0; i < samples; i++)
        {
            var y = Turn(i == 0 ? 1 : 0);
            sum += y * y;
        }

        return sum;
    }
}
