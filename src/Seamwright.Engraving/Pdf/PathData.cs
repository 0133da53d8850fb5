using System.Globalization;
using PdfSharp.Drawing;

namespace Seamwright.Engraving.Pdf;

/// <summary>Reads SVG path data (SVG 1.1, 8.3): moves, lines, quadratic, cubic and smooth cubic curves, closing; absolute and relative.</summary>
/// <remarks>Arcs and smooth quadratic curves do not occur on a sheet and are refused.</remarks>
internal ref struct PathData(string text)
{
    private readonly string text = text;
    private readonly XGraphicsPath path = new() { FillMode = XFillMode.Winding };
    private int at;
    private XPoint here;
    private XPoint start;
    private XPoint lastControl;

    public static XGraphicsPath Read(string d) => new PathData(d).Read();

    private XGraphicsPath Read()
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

        return path;
    }

    private void Apply(char command)
    {
        var origin = char.IsAsciiLetterLower(command) ? here : default;
        switch (char.ToUpperInvariant(command))
        {
            case 'M':
                here = start = Point(origin);
                path.StartFigure();
                break;
            case 'L':
                LineTo(Point(origin));
                break;
            case 'H':
                LineTo(new(origin.X + Number(), here.Y));
                break;
            case 'V':
                LineTo(new(here.X, origin.Y + Number()));
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
                path.CloseFigure();
                here = start;
                break;
            default:
                throw new NotSupportedException($"Path command '{command}' in \"{text}\".");
        }
    }

    private void LineTo(XPoint to)
    {
        path.AddLine(here, to);
        here = to;
    }

    private void CurveTo(XPoint a, XPoint b, XPoint to)
    {
        path.AddBezier(here, a, b, to);
        (lastControl, here) = (b, to);
    }

    private void QuadraticTo(XPoint control, XPoint to) =>
        CurveTo(Between(here, control), Between(to, control), to);

    private static XPoint Between(XPoint end, XPoint control) =>
        new(end.X + (2 * (control.X - end.X) / 3), end.Y + (2 * (control.Y - end.Y) / 3));

    private XPoint Point(XPoint origin)
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
