using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;

namespace Seamwright.Core.Diagnosis;

/// <summary>What can be said about a note or a note change.</summary>
public enum Verdict
{
    /// <summary>As it was asked for.</summary>
    Clean,

    /// <summary>The slide is plainly heard between two notes that were not meant to glide.</summary>
    Smear,

    /// <summary>The slide may be heard.</summary>
    SmearPossible,

    /// <summary>The sound fell so far that the air must have stopped.</summary>
    AirStopped,

    /// <summary>The tongue cut deeper or longer than a soft touch.</summary>
    TooHard,

    /// <summary>The new note bursts above its own level.</summary>
    Bump,

    /// <summary>The tongue touched before the arm was half way.</summary>
    TongueEarly,

    /// <summary>The tongue touched after the arm was half way.</summary>
    TongueLate,

    /// <summary>A soft tongue was asked for and the slide is heard without any.</summary>
    NoTongue,

    /// <summary>A wrong partial sounded on the way.</summary>
    Cracked,

    /// <summary>A note lies further from its pitch than a melody bears.</summary>
    OutOfTune,

    /// <summary>The recording does not settle it.</summary>
    CannotTell,

    /// <summary>A tongue is heard where none was asked for.</summary>
    TongueHeard,

    /// <summary>The pitch slid where it was to break by itself.</summary>
    Slid,

    /// <summary>The pitch broke where a slide was to be heard.</summary>
    Broke,

    /// <summary>A slow slide was asked for and it was over almost at once.</summary>
    TooShortSlide,

    /// <summary>A touch was asked for and none is heard.</summary>
    NoTouch,

    /// <summary>The steady air between the touches is not what it was.</summary>
    AirChanged,

    /// <summary>A fast slide was asked for and the arm took longer than planned.</summary>
    Crept,

    /// <summary>A steady tone was asked for and its pitch moved.</summary>
    Unsteady,

    /// <summary>Another note was played in its place.</summary>
    WrongNote,

    /// <summary>A note was played between the two that the part does not have there.</summary>
    AddedNote,
}

/// <summary>The verdicts' names in files.</summary>
public static class VerdictNames
{
    private static readonly ImmutableArray<string> Names =
    [
        "clean", "smear", "smear-possible", "air-stopped", "too-hard", "bump",
        "tongue-early", "tongue-late", "no-tongue", "cracked", "out-of-tune", "cannot-tell",
        "tongue-heard", "slid", "broke", "too-short-slide", "no-touch", "air-changed", "crept", "unsteady", "wrong-note", "added-note",
    ];

    /// <summary>For instance <c>smear-possible</c>.</summary>
    public static string WireName(this Verdict verdict) => Names[(int)verdict];

    /// <summary>Reads a wire name, exactly as written.</summary>
    public static bool TryParse([NotNullWhen(true)] string? text, out Verdict verdict)
    {
        var i = text is null ? -1 : Names.IndexOf(text);
        verdict = i < 0 ? default : (Verdict)i;
        return i >= 0;
    }
}

/// <summary>A verdict and the figure it rests on.</summary>
/// <param name="Verdict">What is said.</param>
/// <param name="Basis">Why: the measured figure beside the limit, both with units; for <see cref="Verdict.CannotTell"/> the reason.</param>
public sealed record Finding(Verdict Verdict, string Basis)
{
    /// <summary>One plain sentence for this finding alone; empty where the judgement's own says all.</summary>
    public string Advice { get; init; } = "";

    /// <summary>What it is at least, where the recording leaves open only whether it is worse; null where nothing is sure.</summary>
    public Verdict? AtLeast { get; init; }

    /// <summary>Why it stays open; null where it does not.</summary>
    internal OpenReason? Why
    {
        get => field ?? (Verdict == Verdict.CannotTell ? OpenReason.Own(Basis) : null);
        init;
    }

    /// <summary>What stays open: figures and limit; empty where the reason says all.</summary>
    internal string What { get; init; } = "";

    /// <summary>Something that cannot be told.</summary>
    /// <param name="what">Figures and limit, for instance <c>a dip of 10 to 16 dB, limit 12 dB</c>; may be empty.</param>
    /// <param name="why">The reason.</param>
    internal static Finding Open(string what, OpenReason why) => new(Verdict.CannotTell, what.Length == 0 ? why.Said : $"{what}: {why.Said}") { What = what, Why = why };

    /// <summary>The fault that is surely there; else the verdict.</summary>
    public Verdict Sure => AtLeast ?? Verdict;
}
