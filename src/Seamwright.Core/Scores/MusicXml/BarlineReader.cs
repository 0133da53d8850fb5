using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Repeats, endings and jumps, gathered bar by bar from barlines and directions.</summary>
internal sealed class BarlineReader
{
    private const int MostTimes = 64;

    private readonly List<(string Name, Beats Offset)> marks = [];
    private RawBar bar = null!;
    private BarRoad next = BarRoad.Straight;
    private IReadOnlyList<int> nextEnding = [];

    public void Begin(RawPart part)
    {
        bar = part.Bars[^1];
        bar.Road = next;
        bar.EndingNumbers = nextEnding;
        next = BarRoad.Straight;
        nextEnding = [];
        marks.Clear();
    }

    public void MarkSegno(Beats offset) => marks.Add(("segno", offset));

    public void MarkCoda(Beats offset) => marks.Add(("coda", offset));

    /// <summary>A sign by the name of its sound attribute.</summary>
    public void MarkRoad(string name, Beats offset) => marks.Add((name, offset));

    public void End(RawPart part)
    {
        foreach (var (name, offset) in marks)
        {
            // A segno, a coda or a repeat start at the very end of a bar stands at the left edge of the next.
            if (offset > Beats.Zero && offset >= bar.Extent && name is "segno" or "coda" or "forward-repeat") next = With(next, name);
            else bar.Road = With(bar.Road, name);
        }
    }

    /// <summary>Puts ending numbers on every bar under a bracket and closes what was left open.</summary>
    public void Finish(RawPart part, ProblemLog log)
    {
        if (next != BarRoad.Straight && (next.Segno || next.Coda)) part.Bars[^1].Road = part.Bars[^1].Road with { Segno = next.Segno, Coda = next.Coda };
        Endings.Close(part, log);
    }

    public void Read(Element element, RawPart part, Cursor at, ProblemLog log)
    {
        var left = element.Says("location", "left");
        if (element.Says("location", "middle"))
        {
            if (element.Has("repeat") || element.Has("ending")) log.Warn(at.Place, "A repeat or ending inside a bar is not followed.", "Split the bar there.");
            return;
        }

        if (element.TextOf("bar-style") is { } style && !left && !element.Has("repeat")) bar.Road = bar.Road with { RightBarline = Style(style) };
        if (element.Has("segno")) marks.Add(("segno", left ? Beats.Zero : Cursor.Furthest));
        if (element.Has("coda")) marks.Add(("coda", left ? Beats.Zero : Cursor.Furthest));
        if (element.Child("ending") is { } ending) ReadEnding(ending, part, left, at, log);
        if (element.Child("repeat") is { } repeat) ReadRepeat(repeat, part, left, at, log);
    }

    private void ReadRepeat(Element repeat, RawPart part, bool left, Cursor at, ProblemLog log)
    {
        if (repeat.Says("direction", "forward"))
        {
            if (left) bar.Road = bar.Road with { RepeatStarts = true };
            else next = next with { RepeatStarts = true };
            return;
        }

        var times = repeat.Attribute("times") is { } text ? Numbers.Whole(text) ?? 0 : 2;
        if (times is < 2 or > MostTimes)
        {
            log.Warn(at.Place, $"A repeat is played 2 to {MostTimes} times; it is taken as 2.", detail: $"'{Header.Words(repeat.Attribute("times"))}'");
            times = 2;
        }

        var target = left && bar.Index > 0 ? part.Bars[bar.Index - 1] : bar;
        target.Road = target.Road with { RepeatTimes = times };
    }

    private void ReadEnding(Element ending, RawPart part, bool left, Cursor at, ProblemLog log)
    {
        if (ending.Says("type", "start"))
        {
            var numbers = EndingNumbers(ending);
            if (numbers.Count == 0)
            {
                log.Warn(at.Place, "An ending has no usable number and is taken as the first.");
                numbers = [1];
            }

            if (left) (bar.Road, bar.EndingNumbers) = (bar.Road with { EndingStarts = true }, numbers);
            else (next, nextEnding) = (next with { EndingStarts = true }, numbers);
            return;
        }

        var target = left && bar.Index > 0 ? part.Bars[bar.Index - 1] : bar;
        target.Road = target.Road with { EndingStops = true };
    }

    private static List<int> EndingNumbers(Element ending)
    {
        var words = (ending.Attribute("number") ?? "").Split([',', ' ', '.'], StringSplitOptions.RemoveEmptyEntries);
        return [.. words.Select(Numbers.Whole).OfType<int>().Where(n => n is >= 1 and <= MostTimes).Distinct().Order()];
    }

    private static BarRoad With(BarRoad road, string name) => name switch
    {
        "segno" => road with { Segno = true },
        "coda" => road with { Coda = true },
        "forward-repeat" => road with { RepeatStarts = true },
        "dacapo" => road with { Jump = Jump.DaCapo },
        "dalsegno" => road with { Jump = Jump.DalSegno },
        "tocoda" => road with { ToCoda = true },
        _ => road with { Fine = true },
    };

    private static BarlineStyle Style(string style) => style switch
    {
        "light-heavy" => BarlineStyle.Final,
        "light-light" => BarlineStyle.Double,
        _ => BarlineStyle.Regular,
    };
}
