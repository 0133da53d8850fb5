namespace Seamwright.Engraving.Guidance;

/// <summary>The signs printed below a note that begins by a change; their shapes are this project's own.</summary>
public enum SheetMark
{
    NaturalSlur,
    ValveSlur,
    SoftTongue,
    GlissandoUp,
    GlissandoDown,

    FastSlideUp,
    FastSlideDown,

    /// <summary>The arm would have to be faster than the player's limit.</summary>
    TooFast,
}
