using Seamwright.Audio;

namespace Seamwright.Studio.Store;

/// <summary>The recordings' sounds, written in pieces while they run.</summary>
/// <remarks>Every piece is followed by the head's new lengths, so that the file is a whole WAV at every moment: what was written before
/// a computer lost its power is there afterwards.</remarks>
internal sealed class TakeFiles
{
    private const int BytesASample = 2;
    private static readonly int Head = HeadOf(0).Length;

    private readonly string folder;
    private readonly Lock gate = new();

    /// <param name="dataFolder">The recordings get a folder of their own in it.</param>
    public TakeFiles(string dataFolder)
    {
        folder = Path.Combine(dataFolder, "recordings");
        Directory.CreateDirectory(folder);
    }

    public string PathOf(Take take) => Path.Combine(folder, take.File);

    /// <summary>Samples that are there.</summary>
    public long Samples(Take take) => File.Exists(PathOf(take)) ? Math.Max(0, (new FileInfo(PathOf(take)).Length - Head) / BytesASample) : 0;

    /// <summary>When samples came last; null where none did.</summary>
    public DateTimeOffset? LastCame(Take take) => Samples(take) > 0 ? new FileInfo(PathOf(take)).LastWriteTimeUtc : null;

    /// <summary>Adds samples at a place: what was there already is passed over, so that a piece can be sent again.</summary>
    /// <param name="take">A recording.</param>
    /// <param name="at">Place of the first sample.</param>
    /// <param name="samples">16-bit, little-endian.</param>
    /// <returns>Samples that are there afterwards; fewer than <paramref name="at"/> where a piece before it is missing.</returns>
    public long Append(Take take, long at, ReadOnlySpan<byte> samples)
    {
        lock (gate)
        {
            using var file = new FileStream(PathOf(take), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read);
            var there = Math.Max(0, (file.Length - Head) / BytesASample);
            if (at > there) return there;
            var fresh = samples[(int)Math.Min(samples.Length, (there - at) * BytesASample)..];
            file.Position = Head + (there * BytesASample);
            file.Write(fresh);
            there += fresh.Length / BytesASample;
            file.Position = 0;
            var head = HeadOf(take.Rate);
            file.Write(head.Of(Math.Min(there * BytesASample, head.MostData)));
            file.Flush(flushToDisk: true);
            return there;
        }
    }

    /// <summary>Stores a file that was brought.</summary>
    public async Task Store(Take take, Stream content)
    {
        var file = new FileStream(PathOf(take), FileMode.Create, FileAccess.Write);
        await using (file.ConfigureAwait(false)) await content.CopyToAsync(file).ConfigureAwait(false);
    }

    public void Delete(Take take)
    {
        if (File.Exists(PathOf(take))) File.Delete(PathOf(take));
    }

    private static WavHead HeadOf(int rate) => new(rate, 1, WavFormat.Pcm16, []);
}
