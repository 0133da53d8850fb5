using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>A stretch of a recording that its file could not give: what sounds there was not played.</summary>
/// <param name="Start">Seconds from the beginning.</param>
/// <param name="End">Not before <paramref name="Start"/>; the same where it is not known how much is missing.</param>
public readonly record struct DamagedSpan(Seconds Start, Seconds End);

/// <summary>A mono recording in memory.</summary>
/// <remarks>Samples are −1 to 1 at full scale; levels measured from them are in dB relative to full scale and never a sound
/// pressure level. Equality is by reference.</remarks>
public sealed class Recording(ReadOnlyMemory<float> samples, SampleRate rate)
{
    public ReadOnlyMemory<float> Samples { get; } = samples;

    public SampleRate Rate { get; } = rate;

    /// <summary>Where the file it was read from is damaged, in order; empty where it is whole.</summary>
    public ImmutableArray<DamagedSpan> Damage { get; init; } = [];

    public Seconds Duration => Rate.ToSeconds(Samples.Length);
}
