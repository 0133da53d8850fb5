namespace Seamwright.Core.Diagnosis.Page;

/// <summary>A shape for each verdict, so that no colour is needed to tell them apart.</summary>
internal static class VerdictMarks
{
    /// <summary>The shape in a box of 12 × 12 around the origin.</summary>
    public static Markup Shape(Verdict verdict) => new(verdict switch
    {
        // An open ring: nothing caught.
        Verdict.Clean => """<circle r="3.6" class="hollow"/>""",

        // A ramp: the slide is heard going up or down; hollow where it only may be.
        Verdict.Smear => """<path d="M-6 4L6 -4V4Z"/>""",
        Verdict.SmearPossible => """<path d="M-6 4L6 -4V4Z" class="hollow"/>""",

        // Two posts with nothing between.
        Verdict.AirStopped => """<path d="M-5 -5H-2V5H-5ZM2 -5H5V5H2Z"/>""",

        // A block; a block with a peak on it.
        Verdict.TooHard => """<path d="M-4.5 -4.5H4.5V4.5H-4.5Z"/>""",
        Verdict.Bump => """<path d="M-5 5V0L0 -6L5 0V5Z"/>""",

        // A flag that leans before or after the post.
        Verdict.TongueEarly => """<path d="M5 -6V6H3V1L-6 -2.5L3 -6Z"/>""",
        Verdict.TongueLate => """<path d="M-5 -6V6H-3V1L6 -2.5L-3 -6Z"/>""",

        // A bar where a touch should be.
        Verdict.NoTongue => """<path d="M-6 -1.6H6V1.6H-6Z"/>""",

        // A broken line.
        Verdict.Cracked => """<path d="M-6 4L-2 -5L1 2L5 -5" class="stroke"/>""",
        Verdict.OutOfTune => """<path d="M0 -6L5.5 0L0 6L-5.5 0Z"/>""",

        // A post on a line: touched where nothing should be; the line alone, cut, where a touch should be.
        Verdict.TongueHeard => """<path d="M-6 3H-1.2V-6H1.2V3H6V5H-6Z"/>""",
        Verdict.NoTouch => """<path d="M-6 -1.2H-2V1.2H-6ZM2 -1.2H6V1.2H2Z"/>""",

        // A curve where a step should be, a step where a curve should be, and a step at the end of a line.
        Verdict.Slid => """<path d="M-6 4C0 4 0 -4 6 -4" class="stroke"/>""",
        Verdict.Broke => """<path d="M-6 4H0V-4H6" class="stroke"/>""",
        Verdict.TooShortSlide => """<path d="M-6 4H3L5 -4H6" class="stroke"/>""",
        Verdict.Crept => """<path d="M-6 4L4 1L6 -4" class="stroke"/>""",

        // Two levels; a wave.
        Verdict.AirChanged => """<path d="M-6 1H-0.5V4H-6ZM0.5 -4H6V-1H0.5Z"/>""",
        Verdict.Unsteady => """<path d="M-6 0Q-4 -5 -2 0T2 0T6 0" class="stroke"/>""",
        _ => """<path d="M-3 -3.2A3 3 0 1 1 0 0.4V2M0 4.2V5.4" class="stroke"/>""",
    });

    /// <summary>The class that colours it.</summary>
    public static string Class(Verdict verdict) => verdict.Gravity() switch
    {
        Gravity.Clean => "clean",
        Gravity.Watch => "watch",
        Gravity.Fault => "fault",
        _ => "open",
    };

    /// <summary>Shape and word side by side, for running text and tables.</summary>
    public static Markup Inline(Verdict verdict) => new(
        $"""<span class="verdict {Class(verdict)}"><svg viewBox="-7 -7 14 14" width="14" height="14" aria-hidden="true" class="mark {Class(verdict)}">{Shape(verdict).Text}</svg> {verdict.Words()}</span>""");
}
