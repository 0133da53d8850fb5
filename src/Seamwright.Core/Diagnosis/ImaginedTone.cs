using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Diagnosis;

/// <summary>Looks for the tongue in a long tone on which it is only to be imagined: no change of the plan lies where it would touch.</summary>
internal static class ImaginedTone
{
    // Seconds at either end that belong to its beginning and end; and how many times deeper a dip must be where a vibrato swings the level too (proposed).
    private const double Edge = 0.12, UnderVibrato = 2;

    /// <summary>Dips in the middle of an imagined tone that are deep enough for a tongue; none of any other note.</summary>
    /// <param name="note">As heard.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="track">The take's pitch and level.</param>
    /// <param name="limits">To compare with.</param>
    public static IReadOnlyList<LiveTouch> TouchesIn(HeardNote note, Plan plan, Track track, VerdictSettings limits)
    {
        if (plan.Notes[note.Index].Note.Asked != ChangeIntent.ImaginedTongue || note is not { Found: true, Onset: { } onset, Offset: { } offset }) return [];
        var least = limits.TongueDip.Value * (note.Vibrato is null ? 1 : UnderVibrato);
        var watch = new TouchWatch();
        var touches = new List<LiveTouch>();
        for (var i = 0; i < track.Frames.Length; i++)
        {
            var time = track.TimeOf(i).Value;
            if (time >= onset.Value + Edge && time <= offset.Value - Edge && watch.Next(time, track.Frames[i]) is { } touch && touch.Depth >= least) touches.Add(touch);
        }

        return touches;
    }

    /// <summary>What is found of them.</summary>
    public static IEnumerable<Finding> Findings(IReadOnlyList<LiveTouch> touches) =>
        touches.Count == 0 ? [] : [new(Verdict.TongueHeard, $"no tongue was asked for and the level dips {Times(touches.Count)}, by {Depth(touches)} dB")];

    /// <summary>The same for the player.</summary>
    public static IEnumerable<string> Remarks(IReadOnlyList<LiveTouch> touches) =>
        touches.Count == 0 ? [] : [$"A tongue was heard {Times(touches.Count)} ({Depth(touches)} dB, at {new Seconds(touches[0].At)}) where it was only to be imagined: blow through and leave the tongue down."];

    private static string Times(int count) => count == 1 ? "once" : $"{count} times";

    private static string Depth(IReadOnlyList<LiveTouch> touches) => $"{(touches.Count == 1 ? "" : "up to ")}{touches.Max(t => t.Depth):0}";
}
