namespace Seamwright.Core.Sound.Loudness;

/// <summary>Brings a whole piece to one loudness without letting a peak through.</summary>
public static class Leveller
{
    /// <summary>Measures the piece, finds gain and limiting, and measures the result again.</summary>
    /// <param name="piece">Run through several times from its beginning.</param>
    /// <param name="settings">Default <see cref="LevellingSettings.Default"/>.</param>
    /// <param name="cancel">Ends it with an <see cref="OperationCanceledException"/>.</param>
    /// <returns>The levelled piece, at its beginning. Its true peak is never above the ceiling; where its loudness is not the
    /// target, a remark says what was reached and why.</returns>
    /// <exception cref="ArgumentException">A setting is out of range, or a sample is no finite number.</exception>
    public static LevelledSound Level(SoundFeed piece, LevellingSettings? settings = null, CancellationToken cancel = default) => throw new NotImplementedException();
}
