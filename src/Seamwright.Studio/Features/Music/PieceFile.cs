using Seamwright.Core;
using Seamwright.Core.Scores;

namespace Seamwright.Studio.Features.Music;

/// <summary>Reads music files as they are given.</summary>
internal static class PieceFile
{
    private const int LongestTitle = 200;

    /// <summary>The score, or where in the file it cannot be read; music without a note is none.</summary>
    public static Outcome<Score> Read(byte[] content, string name)
    {
        using var stream = new MemoryStream(content, writable: false);
        var read = AnyScore.Read(stream, name);
        return read.Succeeded && !read.Value.Parts.Any(p => p.Notes.Any())
            ? Outcome<Score>.Failed([.. read.Problems, new(name, "holds no note.", "Write or choose music with notes in it.", Severity.Error)])
            : read;
    }

    /// <summary>What the piece is called: its title, else its file's name.</summary>
    public static string TitleOf(Score score, string fileName)
    {
        var title = score.Title.Length > 0 ? score.Title : Path.GetFileNameWithoutExtension(fileName);
        return title.Length <= LongestTitle ? title : title[..LongestTitle];
    }
}
