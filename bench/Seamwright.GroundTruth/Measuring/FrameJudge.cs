using Seamwright.Core.Listening;
using Seamwright.GroundTruth.Truth;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>Pitch as a function of time, frame by frame against the truth.</summary>
/// <param name="truth">Of the take.</param>
/// <param name="frames">Truth every 5 ms.</param>
internal sealed class FrameJudge(TruthFile truth, (double? Hertz, double LevelDb)[] frames)
{
    private const double Hop = 0.005, Reach = 0.03, SoundingDb = 25;
    private const int LowMidi = 46;

    /// <summary>Counts every frame.</summary>
    /// <param name="heard">Hz at a time, or null.</param>
    public (FrameCounts Stable, FrameCounts Moving, FrameCounts Low) Count(Func<double, double?> heard)
    {
        var (stable, moving, low) = (default(FrameCounts), default(FrameCounts), default(FrameCounts));
        foreach (var (time, hz, note, moves) in Sounding())
        {
            var pitch = heard(time);
            if (moves) moving = moving.With(pitch, hz);
            else stable = stable.With(pitch, hz);
            if (note.Midi < LowMidi) low = low.With(pitch, hz);
        }

        return (stable, moving, low);
    }

    /// <summary>Every frame that sounds, with its note and whether it lies within 30 ms of a glide.</summary>
    public IEnumerable<(double Time, double Hertz, TruthNote Note, bool Moves)> Sounding()
    {
        for (var i = 0; i < frames.Length; i++)
        {
            var time = i * Hop;
            if (frames[i].Hertz is not { } hz) continue;
            var note = truth.Notes.LastOrDefault(n => n.Onset <= time) ?? truth.Notes[0];
            if (frames[i].LevelDb < note.LevelDb - SoundingDb) continue;
            yield return (time, hz, note, truth.Changes.Any(c => c.Shape != "none" && time >= c.MoveStart - Reach && time <= c.MoveEnd + Reach));
        }
    }

    /// <summary>A listener's track as a function: the frame nearest to a time.</summary>
    public static Func<double, double?> Of(Track track) => time =>
    {
        if (track.Frames.IsEmpty) return null;
        var i = (int)Math.Round((time - track.Start.Value) / track.Hop.Value);
        return i >= 0 && i < track.Frames.Length ? track.Frames[i].Pitch?.Value : null;
    };
}
