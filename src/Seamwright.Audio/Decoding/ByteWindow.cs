namespace Seamwright.Audio.Decoding;

/// <summary>A stream seen through a window that only moves forward.</summary>
/// <param name="input">Read from where it stands.</param>
/// <param name="width">Most bytes seen at once.</param>
internal sealed class ByteWindow(Stream input, int width)
{
    private readonly byte[] buffer = new byte[2 * width];
    private int start;
    private int end;
    private bool ended;

    /// <summary>Bytes passed so far.</summary>
    public long Position { get; private set; }

    /// <summary>The next bytes; fewer than asked for only at the end of the stream.</summary>
    public ReadOnlySpan<byte> Peek(int count)
    {
        if (end - start < count && !ended) Fill(count);
        return buffer.AsSpan(start, Math.Min(count, end - start));
    }

    /// <summary>Passes bytes; beyond the end of the stream it stops there.</summary>
    public void Skip(long count)
    {
        while (count > 0)
        {
            var here = Peek((int)Math.Min(count, width)).Length;
            if (here == 0) return;
            start += here;
            Position += here;
            count -= here;
        }
    }

    private void Fill(int count)
    {
        buffer.AsSpan(start, end - start).CopyTo(buffer);
        (start, end) = (0, end - start);
        while (end < count)
        {
            var read = input.Read(buffer, end, buffer.Length - end);
            ended = read == 0;
            if (ended) return;
            end += read;
        }
    }
}
