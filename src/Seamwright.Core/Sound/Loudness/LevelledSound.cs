using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.Loudness;

/// <summary>A piece brought to its loudness.</summary>
/// <remarks>Equality is that of references for the feed and the remarks.</remarks>
public sealed record LevelledSound
{
    /// <summary>The sound, at its beginning, as long as the piece; it runs the piece, which must not be used for anything else meanwhile.</summary>
    public required SoundFeed Sound { get; init; }

    /// <summary>The piece as it was given.</summary>
    public required LoudnessReading Before { get; init; }

    /// <summary>Measured again on the very samples that <see cref="Sound"/> gives.</summary>
    public required LoudnessReading After { get; init; }

    /// <summary>By what every sample was multiplied.</summary>
    public required Decibels Gain { get; init; }

    /// <summary>How far the limiter pressed the highest peak down; 0 where it was not needed.</summary>
    public required Decibels Reduction { get; init; }

    /// <summary>What should be said: silence, a limiter at work, a target that was not reached.</summary>
    public required ImmutableArray<Problem> Remarks { get; init; }
}
