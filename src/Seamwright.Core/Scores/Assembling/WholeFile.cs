namespace Seamwright.Core.Scores.Assembling;

/// <summary>A file's bytes, never more than a limit.</summary>
internal static class WholeFile
{
    /// <summary>Reads a stream to its end, or stops at the limit.</summary>
    /// <exception cref="LimitException">The stream is longer than <paramref name="most"/>.</exception>
    public static byte[] Read(Stream content, long most, Func<long, string?>? objection = null)
    {
        using var copy = new MemoryStream();
        var buffer = new byte[64 << 10];
        for (int n; (n = content.Read(buffer)) > 0;)
        {
            copy.Write(buffer, 0, n);
            if (copy.Length > most) throw new LimitException($"is larger than {most >> 20} MB ({most} bytes).");
            if (objection?.Invoke(copy.Length) is { } what) throw new LimitException(what);
        }

        return copy.ToArray();
    }
}
