using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Assembling;

/// <summary>Where a bar's notes stand in a text file.</summary>
internal sealed class TextPlaces
{
    private readonly List<(Beats Offset, int Line, int Column)> marks = [];

    /// <summary>Something begins here; to be called in the order of the text.</summary>
    public void Mark(Beats offset, int line, int column) => marks.Add((offset, line, column));

    /// <summary>The last mark at or before a place of the bar, else its first.</summary>
    public Place At(string part, Beats offset)
    {
        if (marks.Count == 0) return new Place(part);
        var (low, high) = (0, marks.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (marks[middle].Offset <= offset) low = middle + 1;
            else high = middle;
        }

        var (_, line, column) = marks[Math.Max(0, low - 1)];
        return new Place(part, Line: line, Column: column);
    }
}
