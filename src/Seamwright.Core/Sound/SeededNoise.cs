namespace Seamwright.Core.Sound;

/// <summary>A stream of pseudo-random numbers that a seed fixes on every machine.</summary>
/// <remarks>Marsaglia, "Xorshift RNGs", J. Stat. Softw. 8 (2003) 14, the 32-bit triple (13, 17, 5). Good enough for noise, not for secrets.
/// A mutable struct so that a sample loop can keep it in a register: pass it by reference.</remarks>
public struct SeededNoise
{
    private uint state;

    /// <summary>The stream of a seed; any seed will do.</summary>
    public SeededNoise(uint seed)
    {
        // Neighbouring seeds would begin alike: mix them (finaliser of MurmurHash3, Appleby); 0 is the one state that never moves.
        var z = seed + 0x9E3779B9u;
        z = (z ^ (z >> 16)) * 0x85EBCA6Bu;
        z = (z ^ (z >> 13)) * 0xC2B2AE35u;
        state = (z ^ (z >> 16)) | 1u;
    }

    /// <summary>Evenly spread over −1 to 1; its root mean square is 1/√3.</summary>
    public float Uniform()
    {
        state ^= state << 13;
        state ^= state >> 17;
        state ^= state << 5;
        return (int)state * (1f / 2147483648f);
    }

    /// <summary>Triangular over −1 to 1: the sum of two even ones of half the width.</summary>
    public float Triangular() => (Uniform() + Uniform()) / 2;
}
