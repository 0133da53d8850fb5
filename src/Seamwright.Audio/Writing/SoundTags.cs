using Seamwright.Core.Scores;

namespace Seamwright.Audio.Writing;

/// <summary>What a sound file says about itself; whatever is null is left out.</summary>
/// <remarks>Vorbis comments in FLAC and Opus, ID3v2.3 in MP3, a LIST/INFO chunk in WAV, which knows neither key nor tempo and
/// carries them in its comment. Control characters become spaces, and a text is cut at 2,000 characters.</remarks>
public sealed record SoundTags
{
    public static readonly SoundTags None = new();

    public string? Title { get; init; }

    /// <summary>The sounding key, written <c>Bb major</c> (in MP3 <c>Bb</c>, a minor one <c>Gm</c>, as its TKEY frame asks).</summary>
    public KeySignature? Key { get; init; }

    /// <summary>Crotchets (or whatever is the beat) a minute, greater than 0. MP3 holds it rounded to a whole number.</summary>
    public double? Tempo { get; init; }

    public string? Comment { get; init; }

    /// <summary>Refuses what no tag can be.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The tempo is not above 0, or the key has more than seven sharps or flats.</exception>
    internal void Check()
    {
        if (Tempo is { } tempo && !(tempo is > 0 and < 10_000)) throw new ArgumentOutOfRangeException(nameof(Tempo), $"A tempo of {tempo} cannot be.");
        if (Key is { Fifths: < -7 or > 7 } key) throw new ArgumentOutOfRangeException(nameof(Key), $"A key of {key.Fifths} fifths cannot be.");
    }
}
