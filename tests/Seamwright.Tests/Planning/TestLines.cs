using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Planning;

/// <summary>Short lines from a few words: <c>Bb3:1~ A3:1/2 r:1 F3'</c>: pitch, length in quarters (default 1), <c>~</c> slurred on,
/// <c>'</c> breath after, <c>.</c> staccato, <c>-</c> tenuto, <c>&gt;</c> accent, <c>g</c> glissando on, <c>r</c> a rest.</summary>
internal static class TestLines
{
    public static Line Of(string text, double tempo = 60)
    {
        var map = TempoMap.Steady(tempo);
        var notes = new List<PlayedNote>();
        var at = Beats.Zero;
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var core = word.TrimEnd('~', '\'', '.', '-', '>', 'g');
            var marks = word[core.Length..];
            var parts = core.Split(':');
            var length = parts.Length > 1 && Beats.TryParse(parts[1], out var b) ? b : Beats.Quarter;
            if (parts[0] != "r") notes.Add(Note(notes.Count, Pitch.Parse(parts[0]), at, length, marks, map));
            at += length;
        }

        return new Line { Title = "Test line", Notes = [.. notes], Tempo = map };
    }

    private static PlayedNote Note(int index, Pitch pitch, Beats at, Beats length, string marks, TempoMap map) => new()
    {
        Index = index,
        NoteIds = [$"n{index}"],
        Bar = $"{((int)at.ToDouble() / 4) + 1}",
        Beat = Beats.Quarter + at - new Beats((int)at.ToDouble() / 4 * 4, 1),
        Pitch = pitch,
        Start = at,
        Length = length,
        StartTime = map.At(at),
        Duration = map.Between(at, at + length),
        SlurredToNext = marks.Contains('~'),
        GlissandoToNext = marks.Contains('g'),
        BreathAfter = marks.Contains('\''),
        Articulations = (marks.Contains('.') ? Articulations.Staccato : 0) | (marks.Contains('-') ? Articulations.Tenuto : 0) | (marks.Contains('>') ? Articulations.Accent : 0),
    };
}
