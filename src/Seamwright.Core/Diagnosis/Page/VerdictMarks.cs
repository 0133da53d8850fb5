namespace Seamwright.Core.Diagnosis.Page;

/// <summary>How a mark's outline is inked.</summary>
public enum MarkInk
{
    Filled, Hollow, Line,
}

/// <summary>A verdict's own shape and its short word.</summary>
/// <param name="Outline">SVG path data in a box of 12 × 12 around the origin: moves, lines, curves, no arcs.</param>
/// <param name="Ink">How it is drawn.</param>
/// <param name="Short">At most nine letters, to stand under a note.</param>
public sealed record VerdictMark(string Outline, MarkInk Ink, string Short);

/// <summary>A shape and a word for each verdict, so that no colour is needed to tell them apart.</summary>
public static class VerdictMarks
{
    /// <summary>Shape and short word of a verdict.</summary>
    public static VerdictMark Of(Verdict verdict) => verdict switch
    {
        // An open ring: nothing caught.
        Verdict.Clean => new("M3.6 0C3.6 2 2 3.6 0 3.6C-2 3.6 -3.6 2 -3.6 0C-3.6 -2 -2 -3.6 0 -3.6C2 -3.6 3.6 -2 3.6 0Z", MarkInk.Hollow, "clean"),

        // A ramp: the slide is heard going up or down; hollow where it only may be.
        Verdict.Smear => new("M-6 4L6 -4V4Z", MarkInk.Filled, "smear"),
        Verdict.SmearPossible => new("M-6 4L6 -4V4Z", MarkInk.Hollow, "smear?"),

        // Two posts with nothing between.
        Verdict.AirStopped => new("M-5 -5H-2V5H-5ZM2 -5H5V5H2Z", MarkInk.Filled, "air"),

        // A block; a block with a peak on it.
        Verdict.TooHard => new("M-4.5 -4.5H4.5V4.5H-4.5Z", MarkInk.Filled, "hard"),
        Verdict.Bump => new("M-5 5V0L0 -6L5 0V5Z", MarkInk.Filled, "burst"),

        // A flag that leans before or after the post.
        Verdict.TongueEarly => new("M5 -6V6H3V1L-6 -2.5L3 -6Z", MarkInk.Filled, "early"),
        Verdict.TongueLate => new("M-5 -6V6H-3V1L6 -2.5L-3 -6Z", MarkInk.Filled, "late"),

        // A bar where a touch should be.
        Verdict.NoTongue => new("M-6 -1.6H6V1.6H-6Z", MarkInk.Filled, "no tongue"),

        // A broken line.
        Verdict.Cracked => new("M-6 4L-2 -5L1 2L5 -5", MarkInk.Line, "crack"),
        Verdict.OutOfTune => new("M0 -6L5.5 0L0 6L-5.5 0Z", MarkInk.Filled, "pitch"),

        // A post on a line: touched where nothing should be; the line alone, cut, where a touch should be.
        Verdict.TongueHeard => new("M-6 3H-1.2V-6H1.2V3H6V5H-6Z", MarkInk.Filled, "tongued"),
        Verdict.NoTouch => new("M-6 -1.2H-2V1.2H-6ZM2 -1.2H6V1.2H2Z", MarkInk.Filled, "no touch"),

        // A curve where a step should be, a step where a curve should be, and a step at the end of a line.
        Verdict.Slid => new("M-6 4C0 4 0 -4 6 -4", MarkInk.Line, "slid"),
        Verdict.Broke => new("M-6 4H0V-4H6", MarkInk.Line, "broke"),
        Verdict.TooShortSlide => new("M-6 4H3L5 -4H6", MarkInk.Line, "too short"),
        Verdict.Crept => new("M-6 4L4 1L6 -4", MarkInk.Line, "crept"),

        // Two levels; a wave.
        Verdict.AirChanged => new("M-6 1H-0.5V4H-6ZM0.5 -4H6V-1H0.5Z", MarkInk.Filled, "air moved"),
        Verdict.Unsteady => new("M-6 0Q-4 -5 -2 0C-0.7 3.3 0.7 3.3 2 0Q4 -5 6 0", MarkInk.Line, "unsteady"),

        // A cross.
        Verdict.WrongNote => new("M-4.5 -4.5L4.5 4.5M-4.5 4.5L4.5 -4.5", MarkInk.Line, "wrong"),

        // A plus.
        Verdict.AddedNote => new("M0 -5.5V5.5M-5.5 0H5.5", MarkInk.Line, "added"),
        _ => new("M-3 -2.8C-3 -6.6 3.2 -6.6 3.2 -3C3.2 -0.8 0 -0.6 0 2M0 4.2V5.4", MarkInk.Line, "unclear"),
    };

    /// <summary>What the short word stands for.</summary>
    public static string Meaning(Verdict verdict) => verdict switch
    {
        Verdict.Clean => "as it was asked for",
        Verdict.Smear => "the slide is plainly heard",
        Verdict.SmearPossible => "the slide may be heard",
        Verdict.AirStopped => "the air stopped",
        Verdict.TooHard => "the tongue cut too deep or too long",
        Verdict.Bump => "the new note burst",
        Verdict.TongueEarly => "the tongue came before the arm was half way",
        Verdict.TongueLate => "the tongue came after the arm was half way",
        Verdict.NoTongue => "the slide was heard and no tongue hid it",
        Verdict.Cracked => "a wrong partial sounded on the way",
        Verdict.OutOfTune => "further from the pitch than a melody bears",
        Verdict.TongueHeard => "a tongue where none was asked for",
        Verdict.NoTouch => "no touch where one was asked for",
        Verdict.Slid => "slid where it was to break",
        Verdict.Broke => "broke where it was to slide",
        Verdict.TooShortSlide => "a slow slide that was over at once",
        Verdict.Crept => "a fast slide that took too long",
        Verdict.AirChanged => "the air between the touches changed",
        Verdict.Unsteady => "the steady tone moved",
        Verdict.WrongNote => "another note was played in its place",
        Verdict.AddedNote => "a note was added before it",
        _ => "could not be told",
    };

    /// <summary>How many changes bear it; for notes their word beside the number.</summary>
    public static string Counted(Verdict verdict, int count) => !IsOfNotes(verdict) ? $"{count}" : count == 1 ? "1 note" : $"{count} notes";

    /// <summary>Whether a verdict falls on a note alone and not on the change that leads to it.</summary>
    internal static bool IsOfNotes(Verdict verdict) => verdict is Verdict.OutOfTune or Verdict.WrongNote;

    /// <summary>The verdict in a reader's words: <c>smear possible</c>.</summary>
    public static string Words(Verdict verdict) => VerdictWords.Words(verdict);

    /// <summary>The class that colours it: <c>clean</c>, <c>watch</c>, <c>fault</c> or <c>open</c>.</summary>
    public static string Look(Verdict verdict) => verdict.Gravity() switch
    {
        Gravity.Clean => "clean",
        Gravity.Watch => "watch",
        Gravity.Fault => "fault",
        _ => "open",
    };

    /// <summary>Shape and words side by side, for running text and tables.</summary>
    internal static Markup Inline(Verdict verdict) => Inline(verdict, verdict.Words());

    /// <summary>Shape and other words side by side.</summary>
    internal static Markup Inline(Verdict verdict, string words)
    {
        var mark = Of(verdict);
        return new($"""<span class="verdict {Look(verdict)}"><svg viewBox="-7 -7 14 14" width="14" height="14" aria-hidden="true"><path class="mark-{mark.Ink.ToString().ToLowerInvariant()}" d="{mark.Outline}"/></svg> {System.Net.WebUtility.HtmlEncode(words)}</span>""");
    }
}
