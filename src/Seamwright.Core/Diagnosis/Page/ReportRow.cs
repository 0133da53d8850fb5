using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>A figure column of the table.</summary>
/// <param name="Name">In the head.</param>
/// <param name="Unit">In the head, once for the whole column.</param>
public readonly record struct ReportColumn(string Name, string Unit);

/// <summary>One line of the table: a note, and the change that led to it.</summary>
public sealed record ReportRow
{
    /// <summary>What <see cref="Cells"/> hold.</summary>
    public static ImmutableArray<ReportColumn> Columns { get; } =
        [new("glide", "ms"), new("dip", "dB"), new("width", "ms"), new("tongue", "ms"), new("silence", "ms"), new("pitch", "cents"), new("slide", "mm")];

    /// <summary>Place of the note in the line, from 0.</summary>
    public required int Note { get; init; }

    /// <summary><c>7, 1½</c>: bar and beat; a repeat by its pass.</summary>
    public required string Place { get; init; }

    /// <summary>Name and planned setting.</summary>
    public required string Name { get; init; }

    /// <summary>Kind of the change to it; empty for the first note.</summary>
    public required string Asked { get; init; }

    /// <summary>Of the change, then of the note where it has something to say; never empty but for a first note without fault.</summary>
    public required ImmutableArray<Verdict> Verdicts { get; init; }

    /// <summary>Number of the picture; null where there is none.</summary>
    public int? Picture { get; init; }

    /// <summary>Figures with their intervals, without units; empty where not measured.</summary>
    public required ImmutableArray<string> Cells { get; init; }

    internal static ReportRow Of(Take take, Diagnosis diagnosis, Plan plan, int note, int? picture)
    {
        var change = plan.Changes.FirstOrDefault(c => c.ToNote == note);
        var (planned, judged) = (plan.Notes[note], diagnosis.Notes[note]);
        var toWrong = judged.Verdicts.Contains(Verdict.WrongNote);
        ImmutableArray<Verdict> changeVerdicts = change is null ? [] : [.. diagnosis.Changes[change.Index].Shown.Where(v => !toWrong || v != Verdict.CannotTell)];
        return new ReportRow
        {
            Note = note,
            Place = $"{planned.Note.Bar}, {TakeParts.BeatWords(planned.Note.Beat)}{TakeParts.PassWords(planned.Note.Pass).Replace(" time", "", StringComparison.Ordinal)}",
            Name = NameOf(planned),
            Asked = change is null ? "" : AskedOf(change),
            Verdicts = [.. changeVerdicts.Concat(judged.Verdicts.Where(v => v is not (Verdict.Clean or Verdict.CannotTell) || change is null)).Distinct()],
            Picture = picture,
            Cells = [.. change is null ? ["", "", "", "", ""] : OfChange(take.Changes[change.Index], TongueFigure.Of(take, diagnosis, plan, change)), .. OfNote(take.Notes[note], judged)],
        };
    }

    internal static string NameOf(PlannedNote note) =>
        note.Setting is { } s ? $"{note.Note.Pitch.ToDisplay()} ({s.Label})" : note.Note.Pitch.ToDisplay();

    internal static string AskedOf(NoteChange change) =>
        change.Intent is { } intent ? intent.WireName().Replace('-', ' ') : change.Kind.Words();

    private static IEnumerable<string> OfChange(HeardChange c, TongueFigure? tongue) =>
    [
        Figures.Ms(c.Glide, c.GlideBounds, unit: ""),
        Figures.Dip(c, "0", ""),
        Figures.Ms(c.DipWidth, c.DipWidthBounds, unit: ""),
        Figures.Ms(tongue?.Offset, tongue?.Bounds, Figures.Signed, ""),
        c.Gap is { Value: > 0 } ? Figures.Ms(c.Gap, c.GapBounds, unit: "") : "",
    ];

    private static IEnumerable<string> OfNote(HeardNote note, NoteJudgement judged)
    {
        yield return Figures.OfCents(judged.Cents ?? note.Cents, judged.CentsBounds ?? note.CentsBounds, "");
        yield return judged.SlideCorrection is { } s && Math.Abs(s.Millimetres) >= 0.5 ? $"{Math.Abs(s.Millimetres):0} {(s.Millimetres > 0 ? "out" : "in")}" : "";
    }
}
