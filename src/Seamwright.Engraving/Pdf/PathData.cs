using System.Globalization;
using PdfSharp.Drawing;

namespace Seamwright.Engraving.Pdf;

/// <summary>Reads SVG path data (SVG 1.1, 8.3): moves, lines, quadratic and cubic curves with their smooth forms,
/// closing; absolute and relative.</summary>
/// <remarks>Arcs do not occur on a sheet and are refused.</remarks>
internal ref struct PathData(string text)
{
    private readonly string text = text;
    private readonly XGraphicsPath path = new() { FillMode = XFillMode.Winding };
    private int at;
    private XPoint here;
    private XPoint start;
    private XPoint? cubicControl;
    private XPoint? quadraticControl;

    public static XGraphicsPath Read(string d) => new PathData(d).Read();

    private XGraphicsPath Read()
    {
        var command = 'M';
        while (SkipToNext())
        {
            if (char.IsAsciiLetter(text[at])) command = text[at++];
            Apply(command);

            // Further pairs after a move are lines.
            command = command switch { 'M' => 'L', 'm' => 'l', _ => command };
        }

        return path;
    }

    private void Apply(char command)
    {
        var origin = char.IsAsciiLetterLower(command) ? here : default;
        if (char.ToUpperInvariant(command) is not ('C' or 'S')) cubicControl = null;
        if (char.ToUpperInvariant(command) is not ('Q' or 'T')) quadraticControl = null;
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
                CurveTo(Mirrored(cubicControl), Point(origin), Point(origin));
                break;
            case 'Q':
                QuadraticTo(Point(origin), Point(origin));
                break;
            case 'T':
                QuadraticTo(Mirrored(quadraticControl), Point(origin));
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
        here = to;
        cubicControl = b;
    }

    private void QuadraticTo(XPoint control, XPoint to)
    {
        CurveTo(Between(here, control), Between(to, control), to);
        cubicControl = null;
        quadraticControl = control;
    }

    // A smooth curve begins with the last one's control point, mirrored; after anything else with the current point.
    private readonly XPoint Mirrored(XPoint? control) =>
        control is { } c ? new((2 * here.X) - c.X, (2 * here.Y) - c.Y) : here;

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
        var (dot, exponent) = (false, false);
        for (; at < text.Length; at++)
        {
            var c = text[at];
            if (c == '.' && !dot && !exponent) dot = true;
            else if (c is 'e' or 'E' && !exponent) exponent = true;
            else if (!char.IsAsciiDigit(c) && !(c is '-' or '+' && text[at - 1] is 'e' or 'E')) break;
        }

        return double.Parse(text.AsSpan(from, at - from), CultureInfo.InvariantCulture);
    }
}
