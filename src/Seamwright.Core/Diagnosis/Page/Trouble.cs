using System.Collections.Immutable;
using System.Xml.Linq;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>A change with something to mend, and its picture.</summary>
public sealed record Trouble
{
    /// <summary>From 1, in played order; stands under the note in the line of music.</summary>
    public required int Number { get; init; }

    /// <summary>Place in the plan's changes.</summary>
    public required int Change { get; init; }

    /// <summary>Bar and beat.</summary>
    public required string Place { get; init; }

    /// <summary>Both notes with their settings.</summary>
    public required string Notes { get; init; }

    public required string Asked { get; init; }

    /// <summary>Worst first; with the figure and limit each rests on.</summary>
    public required ImmutableArray<Finding> Findings { get; init; }

    /// <summary>Each verdict once, worst first; what is open beside them is among <see cref="Findings"/> alone.</summary>
    public IEnumerable<Verdict> Verdicts => TakeParts.Shown([.. Findings.Select(f => f.Verdict)]);

    /// <summary>Figures and limits that the advice does not say already.</summary>
    public IEnumerable<Finding> Reasons => Findings.Where(f => f.Basis.Length > 0 && !Advice.StartsWith(f.Basis, StringComparison.Ordinal));

    /// <summary>What stands before a finding's figure: beside something sure an open one is only not settled.</summary>
    public static string Label(Finding finding) => finding.Verdict == Verdict.CannotTell ? "not settled" : finding.Verdict.Words();

    public required string Advice { get; init; }

    /// <summary>A name and a figure with its interval each.</summary>
    public required ImmutableArray<(string Name, string Figure)> Figures { get; init; }

    /// <summary>What else was heard, a sentence each.</summary>
    public required ImmutableArray<string> Remarks { get; init; }

    /// <summary>An SVG element of paths, rectangles and texts whose classes <see cref="PictureInk"/> names.</summary>
    public required XElement Picture { get; init; }

    internal static bool Is(ChangeJudgement judgement) => TakeParts.Worst(judgement.Findings).Gravity() is Gravity.Fault or Gravity.Watch;

    internal static Trouble Of(Take take, Diagnosis diagnosis, Plan plan, NoteChange change, int number)
    {
        var (heard, judged) = (take.Changes[change.Index], diagnosis.Changes[change.Index]);
        var told = new Trouble
        {
            Number = number,
            Change = change.Index,
            Place = TakeParts.PlaceOf(plan, change),
            Notes = $"{ReportRow.NameOf(plan.Notes[change.FromNote])} to {ReportRow.NameOf(plan.Notes[change.ToNote])}",
            Asked = ReportRow.AskedOf(change),
            Findings = [.. judged.Findings.Where(f => f.Verdict != Verdict.Clean).OrderByDescending(f => f.Verdict.Weight())],
            Advice = judged.Advice,
            Figures = [.. Page.Figures.Of(heard, TongueFigure.Of(take, diagnosis, plan, change))],
            Remarks = [.. judged.Remarks, .. Doubted(heard)],
            Picture = new XElement("svg"),
        };
        return told with { Picture = new ChangePicture(take, plan, change).Draw(told.Alternative) };
    }

    /// <summary>What a reader who cannot see the picture is told.</summary>
    internal string Alternative =>
        $"Pitch, level and slide around change {Number}, {Place}, {Notes}: {string.Join(", ", Verdicts.Select(v => v.Words()))}. {string.Join("; ", Figures.Select(f => $"{f.Name} {f.Figure}"))}.";

    private static IEnumerable<string> Doubted(HeardChange heard) =>
        heard.Doubts.IsDefaultOrEmpty ? [] : [$"What limits these figures: {string.Join(", ", heard.Doubts.Select(d => d.WireName().Replace('-', ' ')))}."];
}
