using System.Globalization;

namespace Seamwright.Engraving.Pages;

/// <summary>A point of a drawing.</summary>
internal readonly record struct Spot(double X, double Y);

internal enum PathStepKind
{
    Move, Line, Curve, Close,
}

/// <summary>One step of a path in absolute coordinates.</summary>
/// <param name="Kind">What it does.</param>
/// <param name="From">Where the pen is.</param>
/// <param name="A">First control point of a curve.</param>
/// <param name="B">Second control point of a curve.</param>
/// <param name="To">Where the pen goes.</param>
internal readonly record struct PathStep(PathStepKind Kind, Spot From, Spot A, Spot B, Spot To);

/// <summary>Reads SVG path data (SVG 1.1, 8.3): moves, lines, quadratic, cubic and smooth cubic curves, closing; absolute and relative.</summary>
/// <remarks>Arcs and smooth quadratic curves do not occur on a sheet and are refused.</remarks>
internal ref struct PathData
{
    private readonly string text;
    private readonly List<PathStep> steps = [];
    private int at;
    private Spot here;
    private Spot start;
    private Spot lastControl;

    private PathData(string text) => this.text = text;

    public static IReadOnlyList<PathStep> Read(string d) => new PathData(d).Read();

    private List<PathStep> Read()
    {
        var command = 'M';
        while (SkipToNext())
        {
            if (char.IsAsciiLetter(text[at])) command = text[at++];
            Apply(command);
            if (char.ToUpperInvariant(command) is not ('C' or 'S')) lastControl = here;

            // Further pairs after a move are lines.
            command = command switch { 'M' => 'L', 'm' => 'l', _ => command };
        }

        return steps;
    }

    private void Apply(char command)
    {
        var origin = char.IsAsciiLetterLower(command) ? here : default;
        switch (char.ToUpperInvariant(command))
        {
            case 'M':
                start = Point(origin);
                Step(PathStepKind.Move, start);
                break;
            case 'L':
                Step(PathStepKind.Line, Point(origin));
                break;
            case 'H':
                Step(PathStepKind.Line, new(origin.X + Number(), here.Y));
                break;
            case 'V':
                Step(PathStepKind.Line, new(here.X, origin.Y + Number()));
                break;
            case 'C':
                CurveTo(Point(origin), Point(origin), Point(origin));
                break;
            case 'S':
                CurveTo(new((2 * here.X) - lastControl.X, (2 * here.Y) - lastControl.Y), Point(origin), Point(origin));
                break;
            case 'Q':
                QuadraticTo(Point(origin), Point(origin));
                break;
            case 'Z':
                Step(PathStepKind.Close, start);
                break;
            default:
                throw new NotSupportedException($"Path command '{command}' in \"{text}\".");
        }
    }

    private void Step(PathStepKind kind, Spot to)
    {
        steps.Add(new(kind, here, here, to, to));
        here = to;
    }

    private void CurveTo(Spot a, Spot b, Spot to)
    {
        steps.Add(new(PathStepKind.Curve, here, a, b, to));
        (lastControl, here) = (b, to);
    }

    private void QuadraticTo(Spot control, Spot to) => CurveTo(Between(here, control), Between(to, control), to);

    private static Spot Between(Spot end, Spot control) =>
        new(end.X + (2 * (control.X - end.X) / 3), end.Y + (2 * (control.Y - end.Y) / 3));

    private Spot Point(Spot origin)
    {
        var x = Number();
        return new(origin.X + x, origin.Y + Number());
    }

    private bool SkipToNext()
    {
        while (at < text.Length && (char.IsWhiteSpace(text[at]) || text[at] == ',')) at++;
        return at < text.Length;
    }

    private double Number()
    {
        SkipToNext();
        var from = at;
        if (at < text.Length && text[at] is '-' or '+') at++;
        while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] is '.' or 'e' or 'E' || (text[at] == '-' && text[at - 1] is 'e' or 'E'))) at++;
        return double.Parse(text.AsSpan(from, at - from), CultureInfo.InvariantCulture);
    }
}
