namespace Seamwright.Core.Listening;

/// <summary>A figure for every frame, in pieces: what grows as one array leaves twice its size behind.</summary>
internal sealed class FrameStore
{
    private const int Piece = 4096;

    private readonly List<float[]> pieces = [];
    private int count;

    public void Add(float value)
    {
        if (count % Piece == 0) pieces.Add(new float[Piece]);
        pieces[^1][count++ % Piece] = value;
    }

    /// <summary>The first frames as one array; nothing is kept.</summary>
    /// <param name="frames">At most as many as were added.</param>
    public float[] Take(int frames)
    {
        var all = new float[frames];
        for (var i = 0; i < frames; i += Piece) pieces[i / Piece].AsSpan(0, Math.Min(Piece, frames - i)).CopyTo(all.AsSpan(i));
        pieces.Clear();
        count = 0;
        return all;
    }
}
