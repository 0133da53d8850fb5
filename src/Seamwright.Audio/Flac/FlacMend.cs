using Seamwright.Audio.Decoding;
using Seamwright.Audio.External;

namespace Seamwright.Audio.Flac;

/// <summary>A copy of a damaged FLAC file in which frames of silence stand for those that cannot be decoded.</summary>
/// <remarks>Frames carry their own numbers, so it is known which are missing and where: what follows keeps its time.</remarks>
/// <param name="Path">Of the copy; whoever holds it deletes it.</param>
/// <param name="Promised">Seconds of sound that the file says it holds; null where it does not.</param>
/// <param name="Lost">First sample and number of samples of each stretch of silence.</param>
internal sealed record FlacMend(string Path, double? Promised, IReadOnlyList<(long At, long Length)> Lost)
{
    /// <summary>Looks through a file and mends it.</summary>
    /// <param name="file">At its beginning.</param>
    /// <param name="cancel">Ends it.</param>
    /// <param name="isWholeInside">Whether every frame before the last is there and right, in the file or its copy.</param>
    /// <returns>Null where nothing is to be mended, or the file is of a kind that is not mended here.</returns>
    public static FlacMend? Of(FileStream file, CancellationToken cancel, out bool isWholeInside)
    {
        isWholeInside = false;
        var head = new byte[FlacStream.Length];
        file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (FlacStream.Read(head) is not { } stream) return null;
        isWholeInside = true;
        var lost = Losses(file, stream, null, cancel);
        if (lost.Count == 0) return null;
        var path = System.IO.Path.GetTempFileName();
        try
        {
            using var copy = File.Create(path);
            copy.Write(FlacStream.Alone(head));
            return new(path, PromisedLength.OfFlac(head), Losses(file, stream, copy, cancel));
        }
        catch
        {
            File.Delete(path);
            throw;
        }
    }

    // Walks the frames; where a copy is wanted, whole ones and silence in place of the others go into it.
    private static List<(long At, long Length)> Losses(FileStream file, FlacStream stream, FileStream? copy, CancellationToken cancel)
    {
        file.Position = FlacStream.Length;
        var bytes = new ByteWindow(file, FlacWalk.Window);
        var walk = new FlacWalk(bytes, stream);
        var lost = new List<(long At, long Length)>();
        var (due, pattern) = (0L, Array.Empty<byte>());
        while (walk.Next() is { } piece)
        {
            cancel.ThrowIfCancellationRequested();
            var here = bytes.Peek(piece.Length);
            if (pattern.Length == 0 || piece.Header.Samples == stream.BlockSize) pattern = here[..piece.Header.Length].ToArray();

            // A last frame that is cut is the decoder's affair: the file breaks off there.
            if (piece.IsWhole || piece.IsLast)
            {
                Silence(due, piece.Header.Number);
                copy?.Write(here);
                due = piece.Header.Number + 1;
            }

            bytes.Skip(piece.Length);
        }

        return lost;

        void Silence(long from, long to)
        {
            if (to <= from) return;
            lost.Add((from * stream.BlockSize, (to - from) * stream.BlockSize));
            for (var number = from; copy is not null && number < to; number++) copy.Write(FlacHeader.Silence(number, pattern, stream));
        }
    }
}
