namespace Seamwright.Audio.Writing;

/// <summary>Puts bytes before all that stands in a file.</summary>
internal static class FileHead
{
    private const int Block = 1 << 20;

    public static void Insert(string path, ReadOnlySpan<byte> head)
    {
        if (head.IsEmpty) return;
        using var file = new FileStream(path, FileMode.Open, FileAccess.ReadWrite, FileShare.None, 0);
        var buffer = new byte[Block];

        // From the end, so that nothing is overwritten before it has moved.
        for (var end = file.Length; end > 0;)
        {
            var part = buffer.AsSpan(0, (int)Math.Min(Block, end));
            end -= part.Length;
            file.Position = end;
            file.ReadExactly(part);
            file.Position = end + head.Length;
            file.Write(part);
        }

        file.Position = 0;
        file.Write(head);
    }
}
