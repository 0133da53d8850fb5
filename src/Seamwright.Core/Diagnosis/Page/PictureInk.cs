using System.Collections.Immutable;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>How one class of a picture's shapes is inked.</summary>
/// <param name="Stroke">Name of a colour of <see cref="ReportInks"/>; empty for none.</param>
/// <param name="Fill">Likewise.</param>
/// <param name="Width">Of the stroke, in units of the picture.</param>
/// <param name="Dashes">Lengths of dash and gap; empty for an unbroken line.</param>
public sealed record PictureInk(string Stroke, string Fill, double Width, string Dashes = "")
{
    /// <summary>Every class, by name. Kinds of line differ by breadth and dashes before they differ by colour.</summary>
    public static ImmutableSortedDictionary<string, PictureInk> ByClass { get; } = new Dictionary<string, PictureInk>
    {
        ["grid"] = new("rule", "", 0.6),
        ["target"] = new("faint", "", 0.9, "5 2.5"),
        ["limit"] = new("faint", "", 0.8, "1.5 2.5"),
        ["under"] = new("", "wash", 0),
        ["heard"] = new("ink", "", 1.7),
        ["planned"] = new("clean", "", 1.4, "6 3"),
        ["post"] = new("ink", "", 0.7, "2 2"),
        ["doubt"] = new("ink", "", 1.1),
        ["tongue"] = new("", "ink", 0),
        ["arm"] = new("ink", "paper", 1.3),
        ["end"] = new("ink", "", 1.3),
    }.ToImmutableSortedDictionary(StringComparer.Ordinal);

    /// <summary>Height of the texts, in units of the picture.</summary>
    public const double TextSize = 10;
}
