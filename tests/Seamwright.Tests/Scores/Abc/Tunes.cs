using System.Text;
using Seamwright.Core;
using Seamwright.Core.Scores;
using Seamwright.Core.Scores.Abc;

namespace Seamwright.Tests.Scores.Abc;

/// <summary>Small tunes made in the test, and short words for what came out.</summary>
internal static class Tunes
{
    public static Outcome<Score> Read(string text, int? tune = null) => AbcReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(text)), "tune.abc", null, tune);

    /// <summary>The only part of a tune in 4/4 and C, unless the header says otherwise.</summary>
    public static Part Part(string music, string header = "M:4/4\nL:1/8", string key = "C")
    {
        var outcome = Read($"%abc-2.1\nX:1\nT:Test\n{header}\nK:{key}\n{music}\n");
        Assert.True(outcome.Succeeded, string.Join("; ", outcome.Problems));
        return outcome.Value.Parts[0];
    }

    /// <summary>Pitches and lengths in quarter notes: <c>C4 1/2, r 1, ...</c>; grace notes bear a <c>g</c>.</summary>
    public static string Notes(Part part) => string.Join(", ", part.Bars.SelectMany(b => b.Events).Select(Word));

    public static string Pitches(Part part) => string.Join(' ', part.Notes.Select(n => n.Pitch));

    public static string Lengths(Part part) => string.Join(' ', part.Bars.SelectMany(b => b.Events).Select(e => e.Duration));

    public static string Slurs(Part part)
    {
        var notes = part.Notes.Select(n => n.Id).ToList();
        return string.Join(' ', part.Slurs.Select(s => $"{notes.IndexOf(s.FromId)}-{notes.IndexOf(s.ToId)}").Order());
    }

    public static string Lyrics(Part part) => string.Join('|', part.Notes.Select(n => n.Lyric));

    private static string Word(ScoreEvent e) => e switch
    {
        Note { Grace: not Grace.None } g => $"{g.Pitch} g",
        Note n => $"{n.Pitch} {n.Duration}{(n.TieToNext ? "-" : "")}",
        _ => $"r {e.Duration}",
    };
}
