using System.Text;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Scores;

/// <summary>A score as text that says everything about it: equal text, equal substance.</summary>
internal static class Dump
{
    public static string Of(Score score)
    {
        var text = new StringBuilder($"{score.Title}|{score.Subtitle}|{score.Composer}|{score.Rights}\n");
        foreach (var part in score.Parts) Of(part, text);
        return text.ToString();
    }

    private static void Of(Part part, StringBuilder text)
    {
        text.Append($"part {part.Id} '{part.Name}' voice {part.Voice} {part.Transposition}\n");
        foreach (var bar in part.Bars)
        {
            text.Append($" bar {bar.Index} '{bar.Number}' {(bar.IsPickup ? "pickup " : "")}{bar.Start}+{bar.Length} {bar.Meter} {bar.Key} {Of(bar.Road)}\n");
            foreach (var c in bar.Clefs) text.Append($"  clef {c.Offset} {c.Clef}\n");
            foreach (var t in bar.Tempos) text.Append($"  tempo {t}\n");
            foreach (var d in bar.Directions) text.Append($"  {d}\n");
            foreach (var c in bar.Chords) text.Append($"  chord {c.Offset} {c.Chord?.ToString() ?? "none"}\n");
            foreach (var e in bar.Events) text.Append($"  {e}\n");
        }

        foreach (var s in part.Slurs) text.Append($" slur {s}\n");
        foreach (var s in part.Glissandi) text.Append($" glissando {s}\n");
    }

    private static string Of(BarRoad r) =>
        $"{(r.RepeatStarts ? "|: " : "")}{(r.RepeatTimes > 0 ? $":|{r.RepeatTimes} " : "")}[{string.Join(',', r.Endings)}]{r.EndingStarts}{r.EndingStops} {(r.Segno ? "segno " : "")}{(r.Coda ? "coda " : "")}{r.Jump} {(r.ToCoda ? "tocoda " : "")}{(r.Fine ? "fine " : "")}{r.RightBarline}";
}

/// <summary>What every bar that was read must keep.</summary>
internal static class Whole
{
    public static void Check(Bar bar)
    {
        var at = Beats.Zero;
        foreach (var e in bar.Events)
        {
            Assert.Equal(at, e.Offset);
            Assert.True(e is Note { Grace: not Grace.None } ? e.Duration == Beats.Zero : e.Duration > Beats.Zero, $"{e}");
            at += e.Duration;
        }

        Assert.Equal(bar.Length, at);
    }

    public static void Check(Score score)
    {
        Assert.NotEmpty(score.Parts);
        foreach (var part in score.Parts)
        {
            Assert.NotEmpty(part.Bars);
            Assert.Contains(part.Bars[0].Clefs, c => c.Offset == Beats.Zero);
            Assert.All(part.Bars, Check);
            var start = Beats.Zero;
            foreach (var bar in part.Bars)
            {
                Assert.Equal(start, bar.Start);
                start += bar.Length;
            }

            var places = part.Notes.Select((n, i) => (n.Id, i)).ToDictionary(p => p.Id, p => p.i);
            Assert.All(part.Slurs.Concat(part.Glissandi), s => Assert.True(places[s.FromId] < places[s.ToId]));
            var ids = part.Bars.SelectMany(b => b.Events).Select(e => e.Id).ToList();
            Assert.Equal(ids.Count, ids.Distinct().Count());
        }
    }
}
