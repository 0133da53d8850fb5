using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Making;

/// <summary>A whole take, filled phrase by phrase.</summary>
internal sealed class Canvas
{
    private readonly int rate;
    private readonly double[] pitch, level;

    public Canvas(double seconds, int rate, double floorDb)
    {
        this.rate = rate;
        Samples = new float[(int)(seconds * rate)];
        var count = (int)(seconds / Truth.Curves.Step) + 1;
        (pitch, level) = (new double[count], new double[count]);
        Array.Fill(pitch, Math.Log2(110));
        Array.Fill(level, floorDb);
    }

    public float[] Samples { get; }

    public Curves Curves() => new(pitch, level);

    /// <summary>Lays a phrase down under its gain.</summary>
    public void Add(PhraseSound sound, double begin, BentGain gain)
    {
        // The phrase begins on a sample: its own clock is moved by less than one.
        var at = (int)Math.Round(begin * rate);
        for (var i = 0; i < sound.Samples.Length && at + i < Samples.Length; i++)
            Samples[at + i] += (float)(sound.Samples[i] * Math.Pow(10, gain.At(i / (double)rate) / 20));
        var place = (int)Math.Round(begin / Truth.Curves.Step);
        for (var i = 0; i < sound.LevelDb.Length && place + i < level.Length; i++)
        {
            pitch[place + i] = sound.Log2Hz[i];
            level[place + i] = Math.Max(level[place + i], sound.LevelDb[i] + gain.At(i * Truth.Curves.Step));
        }
    }
}
