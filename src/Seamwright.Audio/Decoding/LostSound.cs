namespace Seamwright.Audio.Decoding;

/// <summary>Counts the damaged stretches of a file and tells of them once.</summary>
internal sealed class LostSound(ProblemLog log)
{
    private long stretches;
    private long frames;
    private long first = -1;
    private long end = -1;

    /// <summary>A stretch for which silence was put.</summary>
    /// <param name="at">Frame of the output where it begins.</param>
    /// <param name="length">Frames of silence; 0 where it is unknown how much is missing.</param>
    public void Add(long at, long length)
    {
        if (first < 0) first = at;

        // What follows on directly is one and the same damage.
        if (at != end || end < 0) stretches++;
        end = at + length;
        frames += length;
    }

    /// <summary>Tells of it, if there was any.</summary>
    public void Tell(int rate)
    {
        if (stretches == 0) return;
        var places = stretches == 1 ? $"is damaged at {first / (double)rate:0.00} s" : $"is damaged in {stretches} places, the first at {first / (double)rate:0.00} s";
        var filled = frames == 0 ? "What could not be read is left out, so later times may be early." : $"Silence stands for the {frames / (double)rate:0.00} s that could not be read.";
        log.Say(places + ".", filled + " Copy the file again if the original is whole.");
        stretches = 0;
    }
}
