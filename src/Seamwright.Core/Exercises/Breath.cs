using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>How much music goes on one breath.</summary>
public static class Breath
{
    /// <summary>Longest phrase of an exercise, in seconds at its slowest tempo (proposed default 12 s: an octave in quarter notes at
    /// ♩ = 60 with a long last note). Longer runs are divided and taken up again from the note they stopped on.</summary>
    public const double LongestPhrase = 12;

    /// <summary>Whether a length fits.</summary>
    /// <param name="length">From the first note to the end of the last.</param>
    /// <param name="tempo">Quarter notes a minute.</param>
    public static bool Holds(Beats length, double tempo) => length.ToDouble() * 60 / tempo <= LongestPhrase + 1e-9;
}
