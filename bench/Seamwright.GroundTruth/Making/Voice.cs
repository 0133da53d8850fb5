namespace Seamwright.GroundTruth.Making;

/// <summary>A sound that can be bent to any pitch.</summary>
internal interface IVoice : IDisposable
{
    /// <summary>For names of files.</summary>
    string Name { get; }

    int Rate { get; }

    /// <summary>One phrase in one breath.</summary>
    /// <param name="log2Hz">Pitch asked for, by seconds from the phrase's beginning.</param>
    /// <param name="length">Seconds.</param>
    PhraseSound Render(Func<double, double> log2Hz, double length);
}

/// <summary>A phrase at a level of 0 dB once it stands (root mean square 1).</summary>
/// <param name="Samples">From the phrase's beginning.</param>
/// <param name="Log2Hz">What really sounds, every 0.1 ms.</param>
/// <param name="LevelDb">Envelope, every 0.1 ms: the attack, then 0.</param>
internal sealed record PhraseSound(float[] Samples, double[] Log2Hz, double[] LevelDb);
