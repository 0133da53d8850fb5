using Seamwright.Core.Listening;
using Seamwright.Core.Units;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Asked and heard for every figure of a change that the truth defines.</summary>
internal static class ChangeFigures
{
    // A glide shorter than this is a jump; hidden in a silence it cannot be seen by anyone.
    private const double ShortestGlideMs = 10, MostHidden = 0.25, ShallowestDb = 1, DeepestDb = 25, ShortestGapMs = 5, ClearSlide = 0.5;

    public static IEnumerable<QuantityScore> Of(string take, TruthChange truth, HeardChange heard)
    {
        if (truth.Kind == "breath") yield break;
        if (truth.Glide10to90Ms is { } glide && truth.GlideHidden <= MostHidden)
        {
            yield return Score(glide >= ShortestGlideMs ? Quantity.Glide : Quantity.Jump, glide, Ms(heard.Glide), Ms(heard.GlideBounds?.Low), Ms(heard.GlideBounds?.High));
            yield return Score(Quantity.GlideCentre, 1000 * truth.GlideCentre!.Value, Ms(heard.GlideCentre), Ms(heard.GlideCentreBounds?.Low), Ms(heard.GlideCentreBounds?.High));
            yield return Score(Quantity.AudibleGlide, truth.Ear.AudibleGlideMs ?? 0, Ms(heard.AudibleGlide), Ms(heard.AudibleGlideBounds?.Low), Ms(heard.AudibleGlideBounds?.High));
        }

        foreach (var (asked, told) in new[] { (truth.SlideBefore, heard.SlideBefore), (truth.SlideAfter, heard.SlideAfter) })
        {
            if (asked is { Semitones: >= ClearSlide } slide)
                yield return Score(Quantity.SlideBeside, slide.AudibleMs, Ms(told?.Audible), Ms(told?.Bounds.Low), Ms(told?.Bounds.High));
        }

        if (truth.DipDb is { } dip and >= ShallowestDb and <= DeepestDb)
        {
            yield return Score(Quantity.Dip, dip, heard.Dip?.Value, heard.DipBounds?.Low.Value, heard.DipBounds?.High.Value);
            yield return Score(Quantity.DipWidth, truth.DipWidthMs!.Value, Ms(heard.DipWidth), Ms(heard.DipWidthBounds?.Low), Ms(heard.DipWidthBounds?.High));
            yield return Score(Quantity.DipCentre, 1000 * truth.DipCentre!.Value, Ms(heard.DipCentre), Ms(heard.DipCentreBounds?.Low), Ms(heard.DipCentreBounds?.High));
            if (truth.TongueOffsetMs is { } off && truth.GlideHidden <= MostHidden)
                yield return Score(Quantity.TongueOffset, off, Ms(heard.TongueOffset), Ms(heard.TongueOffsetBounds?.Low), Ms(heard.TongueOffsetBounds?.High));
        }

        if (truth.GapMs is { } gap && gap >= ShortestGapMs)
            yield return Score(Quantity.Gap, gap, Ms(heard.Gap), Ms(heard.GapBounds?.Low), Ms(heard.GapBounds?.High));
        if (truth.OvershootDb is { } over and >= 1)
            yield return Score(Quantity.Overshoot, over, heard.Overshoot?.Value, heard.OvershootBounds?.Low.Value, heard.OvershootBounds?.High.Value);

        QuantityScore Score(string quantity, double asked, double? told, double? low, double? high) =>
            new(take, truth.Index, truth.Time, truth.Kind, Math.Min(truth.FromMidi, truth.ToMidi), quantity, asked, heard.Found ? told : null, low, high);
    }

    private static double? Ms(Seconds? time) => time?.Milliseconds;
}
