using System.Collections.Immutable;
using System.Text;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The report's colours on one ground, each as <c>#rrggbb</c>.</summary>
/// <remarks>The four that tell verdicts apart are the blue, reddish purple and vermillion of Okabe and Ito's palette (Color Universal
/// Design, 2002 and 2008) and a grey: on paper darkened, on slate lightened, until words in them keep 4.5 to 1 (WCAG 2.2, 1.4.3). Dichromats
/// still tell them apart by themselves, and none ever stands without a shape and a word.</remarks>
public sealed record ReportInks
{
    /// <summary>Ink on paper, by day.</summary>
    public static ReportInks Day { get; } = new()
    {
        Paper = "#faf7f0",
        Ink = "#26221c",
        Faint = "#665f54",
        Rule = "#d8cfbf",
        Wash = "#ece4d3",
        Clean = "#0069a4",
        Watch = "#9a4678",
        Fault = "#a84300",
        Open = "#5f5a53",
    };

    /// <summary>Chalk on slate, by night.</summary>
    public static ReportInks Night { get; } = new()
    {
        Paper = "#1d2021",
        Ink = "#e9e4d8",
        Faint = "#a9a294",
        Rule = "#43484a",
        Wash = "#2f3536",
        Clean = "#56b4e9",
        Watch = "#cc79a7",
        Fault = "#f0843c",
        Open = "#b5aea2",
    };

    /// <summary>Ink on white paper, printed.</summary>
    public static ReportInks Printed { get; } = Day with { Paper = "#ffffff", Ink = "#000000", Faint = "#4d4d4d", Rule = "#b9b9b9", Wash = "#e6e6e6" };

    public required string Paper { get; init; }

    /// <summary>Words and what was heard.</summary>
    public required string Ink { get; init; }

    /// <summary>Axes and captions.</summary>
    public required string Faint { get; init; }

    public required string Rule { get; init; }

    /// <summary>Areas behind a line.</summary>
    public required string Wash { get; init; }

    /// <summary>As asked for; also what was planned.</summary>
    public required string Clean { get; init; }

    public required string Watch { get; init; }

    public required string Fault { get; init; }

    /// <summary>Could not be told.</summary>
    public required string Open { get; init; }

    /// <summary>Name and colour, as the style sheet calls them.</summary>
    internal ImmutableArray<(string Name, string Colour)> All =>
        [("paper", Paper), ("ink", Ink), ("faint", Faint), ("rule", Rule), ("wash", Wash), ("clean", Clean), ("watch", Watch), ("fault", Fault), ("open", Open)];

    /// <summary>The colour of a verdict.</summary>
    public string Of(Verdict verdict) => verdict.Gravity() switch
    {
        Gravity.Clean => Clean,
        Gravity.Watch => Watch,
        Gravity.Fault => Fault,
        _ => Open,
    };

    /// <summary>As custom properties of a style sheet.</summary>
    internal string Css() => All.Aggregate(new StringBuilder(), (css, c) => css.Append($"--{c.Name}: {c.Colour}; ")).ToString().TrimEnd();
}
