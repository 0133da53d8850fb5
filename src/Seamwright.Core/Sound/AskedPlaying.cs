using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>How a fine player makes a change of which an exercise asks something of its own.</summary>
/// <remarks>Proposed defaults, inside what the change's aim allows: a slow slide takes eight tenths of the time there is, a fast one the
/// arm's usual time without any dip, an imagined tongue does nothing at all, and a touch on a long tone dips as little as the finest
/// legato does (5–16 dB measured on one orchestral player).</remarks>
internal static class AskedPlaying
{
    /// <summary>Share of the time from note to note that a slow slide takes.</summary>
    public const double SlowShare = 0.8;

    private const double TouchDb = 9;

    /// <summary>Clean, as asked.</summary>
    /// <param name="asked">By the exercise.</param>
    /// <param name="change">For its time.</param>
    /// <param name="move">The arm's usual time.</param>
    /// <returns>Null where the change's kind says how it is played.</returns>
    public static ChangeExecution? Of(ChangeIntent asked, NoteChange change, Seconds move) => asked switch
    {
        _ when change.Kind == ChangeKind.Breath => null,
        ChangeIntent.SlowSlide when change.Kind == ChangeKind.Glissando => new() { Move = SlowShare * change.TimeAvailable },
        ChangeIntent.FastSlide when change.Kind == ChangeKind.Glissando => new() { Move = move },
        ChangeIntent.ImaginedTongue when Stays(change) => new(),
        ChangeIntent.TouchedTone when Stays(change) => new() { Dip = new(TouchDb), DipWidth = Seconds.FromMilliseconds(40) },
        _ => null,
    };

    /// <summary>Whether the tongue has no business at a change.</summary>
    public static bool WantsNoTongue(NoteChange change) =>
        change.Intent is ChangeIntent.SlowSlide or ChangeIntent.FastSlide or ChangeIntent.NaturalSlur or ChangeIntent.ImaginedTongue;

    private static bool Stays(NoteChange change) => change is { PitchMotion: PitchMotion.Same, SlideMotion: SlideMotion.Still };
}
