using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>The pitch that is asked for, as a function of time, and what it does about itself where a note is held.</summary>
/// <param name="paths">Where one note passes into the next.</param>
/// <param name="vibrato">To each side.</param>
/// <param name="rate">Of the vibrato.</param>
internal sealed class BendPath(Paths paths, Cents vibrato, Hertz rate)
{
    private readonly double octaves = vibrato.Value / 1200;

    /// <summary>The note that is held at a time, from passage to passage, seconds; empty within one.</summary>
    public (double Start, double End) HeldAt(double t)
    {
        if (paths.Sounding.IsEmpty) return (t, t);
        var (first, last) = (paths.NoteEdges(0).Onset, paths.NoteEdges(paths.Sounding.Length - 1).Offset);
        if (paths.Passages.IsEmpty) return (first, last);
        var i = paths.NearestTo(t);
        var passage = paths.Passages[i];
        if (t < passage.Start) return (i > 0 ? paths.Passages[i - 1].End : first, passage.Start);
        return t <= passage.End ? (t, t) : (passage.End, i + 1 < paths.Passages.Length ? paths.Passages[i + 1].Start : last);
    }

    /// <summary>How far a held note is on its own, 0 to 1: 0 at its passages, 1 between.</summary>
    public static double OwnAt(double t, (double Start, double End) held) =>
        Math.Clamp((t - held.Start) / 0.1, 0, 1) * Math.Clamp((held.End - t) / 0.06, 0, 1);

    /// <summary>Vibrato in octaves.</summary>
    public double VibratoAt(double t) => octaves == 0 ? 0 : Vibrato(t, HeldAt(t));

    /// <summary>Base-2 logarithm of Hz, vibrato included.</summary>
    public double PitchAt(double t)
    {
        if (paths.Sounding.IsEmpty) return Math.Log2(110);
        if (paths.Passages.IsEmpty) return paths.Alone + VibratoAt(t);
        var passage = paths.Passages[paths.NearestTo(t)];
        if (t < passage.Start) return passage.FromPitch + VibratoAt(t);
        return t <= passage.End ? passage.At(t) : passage.ToPitch + VibratoAt(t);
    }

    // Swells in after the beginning and is gone before the change, so that both stay as they were asked for.
    private double Vibrato(double t, (double Start, double End) held)
    {
        var swell = Math.Clamp((t - held.Start - 0.15) / 0.2, 0, 1) * Math.Clamp((held.End - t) / 0.06, 0, 1);
        return octaves * swell * Math.Sin(2 * Math.PI * rate.Value * (t - held.Start));
    }
}
