namespace Seamwright.Core.Listening;

/// <summary>Finds touches as they happen: the level dips and comes back while the same tone goes on.</summary>
/// <remarks>A dip counts from 3 dB below the tone's own level (twice what is just heard in a window of 13 ms, rounded up) and is over
/// when the level is back within 3 dB. What lasts longer than 300 ms was no touch but an end; where the pitch a window later is another one
/// by more than a quarter tone, it was a change of note. Proposed defaults.</remarks>
public sealed class TouchWatch
{
    private const double Enough = 3, Longest = 0.3, Quiet = -70, OtherNote = 50;

    // The tone's own level follows in about a fifth of a second, upward at once.
    private const double Follow = 0.03;

    // Frames in the window that pitch is read in: beside a change it holds both notes.
    private const int PitchWindow = 13;

    private readonly Queue<double> pitches = new();
    private double tone = double.NegativeInfinity, began, deepest, deepestAt, pitchBefore;
    private bool inDip;
    private (LiveTouch Touch, double Pitch)? ended;
    private int wait;

    /// <summary>Takes the next frame, 5 ms after the one before; the touch that ended a window before it, or null.</summary>
    public LiveTouch? Next(double time, Frame frame)
    {
        pitches.Enqueue(frame.Pitch?.Value ?? 0);
        if (pitches.Count > PitchWindow) pitches.Dequeue();
        var level = frame.Level.Value;
        if (level < Quiet && !inDip) tone = double.NegativeInfinity;
        if (inDip) Inside(time, level);
        else Outside(time, level, frame.Pitch is not null);
        return ended is { } one && (inDip || --wait <= 0) ? Told(one.Touch, one.Pitch) : null;
    }

    private void Inside(double time, double level)
    {
        if (level < deepest) (deepest, deepestAt) = (level, time);
        if (time - began > Longest)
        {
            (inDip, tone) = (false, double.NegativeInfinity);
            return;
        }

        if (level < tone - Enough) return;
        (inDip, wait) = (false, PitchWindow);
        ended = (new LiveTouch(Math.Round(deepestAt, 3), Math.Round(tone - deepest, 1), Math.Round((time - began) * 1000)), pitchBefore);
    }

    private void Outside(double time, double level, bool sounds)
    {
        if (level < tone - Enough) (inDip, began, deepest, deepestAt, pitchBefore) = (true, time, level, time, Pitch(pitches));
        else if (sounds) tone = level > tone ? level : tone + ((level - tone) * Follow);
    }

    private LiveTouch? Told(LiveTouch touch, double before)
    {
        var after = Pitch(pitches.Reverse());
        ended = null;
        return before > 0 && after > 0 && Math.Abs(1200 * Math.Log2(after / before)) > OtherNote ? null : touch;
    }

    // The first of them that has any.
    private static double Pitch(IEnumerable<double> of) => of.FirstOrDefault(p => p > 0);
}

/// <summary>A dip in a tone that goes on.</summary>
/// <param name="At">Seconds, where it is deepest.</param>
/// <param name="Depth">Decibels below the tone before it.</param>
/// <param name="Milliseconds">From 3 dB down to 3 dB down again.</param>
public sealed record LiveTouch(double At, double Depth, double Milliseconds)
{
    /// <summary>Whether it fell so far that the air stopped: 20 dB in the ear's window (proposed default, as in a take).</summary>
    public bool Stopped => Depth >= ChangeMeter.Silent;
}
