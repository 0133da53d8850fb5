using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;

namespace Seamwright.Core.Scores;

/// <summary>What a sheet asks of the way into a note, where that differs from playing it as well as the music wants.</summary>
public enum ChangeIntent
{
    /// <summary>The slide is moved slowly and is meant to be heard all the way.</summary>
    SlowSlide,

    /// <summary>The slide is moved fast without the tongue: a short glide, no dip.</summary>
    FastSlide,

    /// <summary>The tongue hides the slide: no smear is left, the touch is soft and on time.</summary>
    SoftTongue,

    /// <summary>The partial breaks by itself: a jump, and no tongue.</summary>
    NaturalSlur,

    /// <summary>The tongue is only imagined: the tone stays steady.</summary>
    ImaginedTongue,

    /// <summary>Light touches on a long tone: they are there and soft, and the air between them is unchanged.</summary>
    TouchedTone,
}

/// <summary>The words for what an exercise asks of a change.</summary>
public static class ChangeIntentNames
{
    private static readonly ImmutableArray<string> Names = ["slow-slide", "fast-slide", "soft-tongue", "natural-slur", "imagined-tongue", "touched-tone"];

    /// <summary><c>slow-slide</c>, <c>fast-slide</c>, <c>soft-tongue</c>, <c>natural-slur</c>, <c>imagined-tongue</c> or <c>touched-tone</c>.</summary>
    public static string WireName(this ChangeIntent intent) => Names[(int)intent];

    /// <summary>Reads a wire name, exactly as written.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out ChangeIntent intent)
    {
        var i = text is null ? -1 : Names.IndexOf(text);
        intent = i < 0 ? default : (ChangeIntent)i;
        return i >= 0;
    }
}
