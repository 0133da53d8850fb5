namespace Seamwright.Audio;

/// <summary>Reads a whole stream that must not be larger than it may.</summary>
internal static class BoundedBytes
{
    /// <summary>All bytes, or null where there are more than <paramref name="limit"/>.</summary>
    public static byte[]? Read(Stream input, long limit)
    {
        if (input.CanSeek && input.Length - input.Position > limit) return null;
        using var kept = new MemoryStream();
        var buffer = new byte[1 << 16];
        int read;
        while ((read = input.Read(buffer)) > 0)
        {
            if (kept.Length + read > limit) return null;
            kept.Write(buffer, 0, read);
        }

        return kept.ToArray();
    }
}
