namespace Seamwright.Core.Listening;

/// <summary>Pitch and level of every frame, safe from octave errors.</summary>
/// <remarks>Inside this class and its readers 0 Hz stands for "no pitch".</remarks>
internal sealed class RoughTrack
{
    private readonly CandidateStore candidates;

    /// <param name="hz">Of each frame.</param>
    /// <param name="strength">Correlation of neighbouring periods.</param>
    /// <param name="db">Level in the ear's window.</param>
    /// <param name="silent">Whether the frame counts as silence.</param>
    /// <param name="candidates">What else each frame may be.</param>
    public RoughTrack(double[] hz, float[] strength, double[] db, bool[] silent, CandidateStore candidates)
    {
        Hz = hz;
        Strength = strength;
        Db = db;
        Silent = silent;
        this.candidates = candidates;
    }

    public double[] Hz { get; }

    /// <summary>Correlation of the chosen period.</summary>
    public float[] Strength { get; }

    /// <summary>Level in the ear's window.</summary>
    public double[] Db { get; }

    public bool[] Silent { get; }

    public int Count => Hz.Length;

    /// <summary>Forgets the candidates: once notes are found nobody asks for them.</summary>
    public void Settle() => candidates.Clear();

    /// <summary>The strongest candidates of a frame, the best first.</summary>
    public int At(int frame, Span<Candidate> found) => candidates.At(frame, found);
}

/// <summary>Every frame's candidates in four bytes each: pitch to a cent, strength to a thousandth.</summary>
internal sealed class CandidateStore
{
    private const int FramesAChunk = 4096;

    // The weakest of those found help nobody.
    private const int Kept = 4;

    private readonly List<(Half Hz, Half Strength)[]> chunks = [];

    public int Count { get; private set; }

    public void Add(ReadOnlySpan<Candidate> all)
    {
        if (Count % FramesAChunk == 0) chunks.Add(new (Half, Half)[FramesAChunk * Kept]);
        var at = Count++ % FramesAChunk * Kept;
        for (var i = 0; i < Kept; i++) chunks[^1][at + i] = ((Half)all[i].Hz, (Half)all[i].Strength);
    }

    /// <summary>Forgets everything.</summary>
    public void Clear() => chunks.Clear();

    /// <summary>Fills a frame's candidates; returns how many.</summary>
    public int At(int frame, Span<Candidate> found)
    {
        var stored = chunks[frame / FramesAChunk].AsSpan(frame % FramesAChunk * Kept, Kept);
        for (var i = 0; i < Kept; i++) found[i] = new((float)stored[i].Hz, (float)stored[i].Strength);
        return Kept;
    }
}
