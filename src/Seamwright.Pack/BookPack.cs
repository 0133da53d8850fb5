using System.Collections.Immutable;
using System.IO.Compression;
using System.Text;
using Seamwright.Engraving;

namespace Seamwright.Pack;

/// <summary>A book and what goes with it in one zip: the same contents give the same bytes.</summary>
/// <param name="entries">What is packed, in the order of the book.</param>
/// <param name="look">Of the book: what its cover says.</param>
/// <param name="printed">Its PDF.</param>
/// <param name="sounds">Sound files, one for each exercise.</param>
public sealed class BookPack(ImmutableArray<BookEntry> entries, BookOptions look, PrintedBook printed, IReadOnlyList<string> sounds)
{
    // The first moment a zip can tell: it says nothing of when this was made.
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Writes all of it.</summary>
    public void Write(Stream output)
    {
        using var zip = new ZipArchive(output, ZipArchiveMode.Create, leaveOpen: true);
        var exercises = entries.Select(e => e.Exercise).ToList();
        var music = ExerciseFiles.Numbered("music/x.musicxml", exercises).Select(Slashes).ToList();
        var sound = ExerciseFiles.Numbered($"sound/x{Path.GetExtension(sounds[0])}", exercises).Select(Slashes).ToList();
        Add(zip, "index.html", s => s.Write(Encoding.UTF8.GetBytes(PackPage.Html(entries, look, printed, music, sound))));
        Add(zip, "book.pdf", printed.WritePdf);
        for (var i = 0; i < exercises.Count; i++)
        {
            var (exercise, made) = (exercises[i], sounds[i]);
            Add(zip, music[i], s => ExerciseFiles.WriteMusicXml(exercise, s));
            Add(zip, sound[i], s => Copy(made, s), CompressionLevel.NoCompression);
        }
    }

    private static string Slashes(string path) => path.Replace('\\', '/');

    private static void Copy(string file, Stream target)
    {
        using var from = File.OpenRead(file);
        from.CopyTo(target);
    }

    private static void Add(ZipArchive zip, string name, Action<Stream> write, CompressionLevel level = CompressionLevel.Optimal)
    {
        var entry = zip.CreateEntry(name, level);
        entry.LastWriteTime = NoTime;
        using var content = entry.Open();
        write(content);
    }
}
