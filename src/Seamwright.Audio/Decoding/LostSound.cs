namespace Seamwright.Audio.Decoding;

/// <summary>Counts the damaged stretches of a file and tells of them once.</summary>
internal sealed class LostSound(ProblemLog log)
{
    // What is damaged in more places than that is told as one long stretch from there on.
    private const int Most = 10_000;

    private readonly List<LostSpan> spans = [];
    private bool isTold;

    /// <summary>What is lost, in order.</summary>
    public IReadOnlyList<LostSpan> Spans => spans;

    /// <summary>A stretch for which silence was put.</summary>
    /// <param name="at">Frame of the output where it begins.</param>
    /// <param name="length">Frames of silence; 0 where it is unknown how much is missing.</param>
    public void Add(long at, long length)
    {
        // What follows on directly is one and the same damage.
        if (spans.Count > 0 && (at == spans[^1].To || spans.Count == Most)) spans[^1] = spans[^1] with { To = at + length };
        else spans.Add(new(at, at + length));
    }

    /// <summary>Tells of it, if there was any.</summary>
    public void Tell(int rate)
    {
        if (spans.Count == 0 || isTold) return;
        var first = spans[0].From / (double)rate;
        var frames = spans.Sum(s => s.To - s.From);
        var places = spans.Count == 1 ? $"is damaged at {first:0.00} s" : $"is damaged in {spans.Count} places, the first at {first:0.00} s";
        var filled = frames == 0 ? "What could not be read is left out, so later times may be early." : $"Silence stands for the {frames / (double)rate:0.00} s that could not be read, and the changes and notes there are not judged.";
        log.Say(places + ".", filled + " Copy the file again if the original is whole.");
        isTold = true;
    }
}
