using System.Globalization;

namespace Seamwright.GroundTruth.Measuring;

/// <summary>A table of figures at 80 columns: a row for each quantity, a column for each pool.</summary>
internal sealed class Table
{
    private const int LabelWidth = 29, GoalWidth = 7;
    private readonly List<(string Name, Pool Pool)> columns;
    private readonly TextWriter output;

    /// <param name="title">First line.</param>
    /// <param name="columns">At most four.</param>
    /// <param name="output">Where it goes.</param>
    public Table(string title, IEnumerable<(string Name, Pool Pool)> columns, TextWriter output)
    {
        this.columns = [.. columns.Take(4)];
        this.output = output;
        output.WriteLine();
        output.WriteLine(title);
        Line("", "goal", this.columns.Select(c => c.Name));
        Line("seconds of sound", "", this.columns.Select(c => Text(c.Pool.Takes.Sum(t => t.Seconds), 0)));
    }

    public IEnumerable<Pool> Pools => columns.Select(c => c.Pool);

    /// <summary>One row.</summary>
    public void Row(string label, string goal, Func<Pool, double?> figure, int digits = 1) =>
        Line(label, goal, columns.Select(c => Text(figure(c.Pool), digits)));

    /// <summary>One row of words.</summary>
    public void Words(string label, string goal, Func<Pool, string> words) => Line(label, goal, columns.Select(c => words(c.Pool)));

    /// <summary>A figure, or a dash where there is none.</summary>
    public static string Text(double? value, int digits) => value is { } v ? v.ToString("F" + digits, CultureInfo.InvariantCulture) : "-";

    private void Line(string label, string goal, IEnumerable<string> cells)
    {
        const int Width = (80 - LabelWidth - GoalWidth) / 4;
        output.WriteLine((label.PadRight(LabelWidth) + goal.PadLeft(GoalWidth) + string.Concat(cells.Select(c => c.PadLeft(Width)))).TrimEnd());
    }
}
