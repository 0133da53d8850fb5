using System.Globalization;
using System.Net;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>Writes HTML and SVG so that whatever is filled into a template is encoded.</summary>
internal sealed class HtmlText(TextWriter output)
{
    /// <summary>Writes a template whose holes are encoded text, numbers, or <see cref="Markup"/>.</summary>
    public void Write(FormattableString template)
    {
        var holes = template.GetArguments().Select(Encoded).ToArray();
        output.Write(string.Format(CultureInfo.InvariantCulture, template.Format, holes));
    }

    /// <summary>As <see cref="Write"/>, and ends the line.</summary>
    public void Line(FormattableString template)
    {
        Write(template);
        output.Write('\n');
    }

    /// <summary>Text of ours, as it stands.</summary>
    public void Raw(string markup) => output.Write(markup);

    // Numbers keep the template's own format; everything else becomes text.
    private static object? Encoded(object? hole) => hole switch
    {
        Markup m => m.Text,
        double or float or int or long => hole,
        null => "",
        _ => WebUtility.HtmlEncode(Convert.ToString(hole, CultureInfo.InvariantCulture)),
    };
}

/// <summary>Markup of ours, already encoded where it must be.</summary>
internal readonly record struct Markup(string Text);
