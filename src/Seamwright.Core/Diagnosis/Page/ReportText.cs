using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>What stands at the top of a report.</summary>
/// <param name="Title">Of the piece.</param>
/// <param name="Take">The recording's name as the reader knows it; empty for none.</param>
/// <param name="Pupil">Whom it is for, printed as given and kept nowhere; empty for nobody.</param>
public sealed record ReportHeading(string Title, string Take = "", string Pupil = "");

/// <summary>A verdict at a note of the sheet.</summary>
/// <param name="NoteId">Of the sheet's note.</param>
/// <param name="Pass">1 for the first time through.</param>
/// <param name="Verdict">The worst.</param>
/// <param name="Number">Of its picture; null where it has none.</param>
/// <param name="Word">What stands under the shape.</param>
public sealed record PlacedMark(string NoteId, int Pass, Verdict Verdict, int? Number, string Word);

/// <summary>Everything a report says, whatever it is printed on.</summary>
public sealed record ReportText
{
    public required ReportHeading Heading { get; init; }

    public required string Instrument { get; init; }

    /// <summary>Notes, tuning and tempo in one or two sentences.</summary>
    public required string Overall { get; init; }

    /// <summary>What is wrong with the recording.</summary>
    public required ImmutableArray<string> Problems { get; init; }

    /// <summary>At most three sentences, the worst first.</summary>
    public required ImmutableArray<string> WorkOnFirst { get; init; }

    /// <summary>How far what an exercise asked was done, and its tones side by side; empty where none asked.</summary>
    public ImmutableArray<string> Aims { get; init; } = [];

    /// <summary>For the line of music, in played order.</summary>
    public required ImmutableArray<PlacedMark> Marks { get; init; }

    /// <summary>In played order.</summary>
    public required ImmutableArray<Trouble> Troubles { get; init; }

    /// <summary>Notes that are out of tune or about which there is something to say.</summary>
    public required ImmutableArray<string> Notes { get; init; }

    /// <summary>One for each played note.</summary>
    public required ImmutableArray<ReportRow> Rows { get; init; }

    /// <summary>Every pass; empty for a single one as written.</summary>
    public required ImmutableArray<string> Attempts { get; init; }

    /// <summary>Sound that belongs to no note.</summary>
    public required ImmutableArray<string> Unmatched { get; init; }

    public required ImmutableArray<string> Unknown { get; init; }

    /// <summary>Changes of which something could be told.</summary>
    public required int Judged { get; init; }

    /// <summary>Changes that were played and of which nothing could be told.</summary>
    public required int Open { get; init; }

    /// <summary>How levels and times were measured, then the room.</summary>
    public required ImmutableArray<string> Measures { get; init; }

    public required ImmutableArray<(string Verdict, string Rule)> Limits { get; init; }

    /// <summary>Verdicts that occur, for the key, each with how many changes bear it (out of tune and wrong: how many notes). A change with two faults
    /// counts under both; one where something is open beside a fault counts under the fault alone.</summary>
    public required ImmutableArray<(Verdict Verdict, int Count)> Counts { get; init; }

    /// <summary>What the key's numbers count.</summary>
    public string CountsSay => $"The numbers count {(Judged + Open == 1 ? "the one change" : $"the {Judged + Open} changes")}{(Counts.Any(c => VerdictMarks.IsOfNotes(c.Verdict)) ? ", or notes where it is said" : "")}{(HasSeveral ? "; a change with two faults counts under both" : "")}.";

    /// <summary>What stands in place of the sentences where there are none.</summary>
    public string NothingFirst => IsSingle ? "Nothing stands out." : Judged == 0 ? "Nothing can be said." : Open == 0 ? "Nothing stands out." : $"Nothing stands out in {Judgeable}.";

    /// <summary>What stands in place of the pictures where there are none.</summary>
    public string NothingToMend => IsSingle ? "It is a single note: there is no change." : Judged == 0 ? "No change could be judged." : $"Nothing to mend in {Judgeable}.";

    private bool IsSingle => Rows is [{ Verdicts: var said }] && !said.Contains(Verdict.CannotTell);

    private string Judgeable => new OpenChanges(Open, Judged + Open, null, 0).Judgeable;

    private bool HasSeveral => Counts.Where(c => !VerdictMarks.IsOfNotes(c.Verdict)).Sum(c => c.Count) > Judged + Open;

    /// <summary>How to read the pictures.</summary>
    public string Legend =>
        $"{Troubles.Length} of {Math.Max(0, Rows.Length - 1)} changes. Unbroken line: what was heard{(Pictured("planned") ? "; dashed in blue: the slide as planned" : "")}. 0 dB: the quieter of the two notes.{(Pictured("tongue") ? " Filled wedge: where the level is lowest." : "")}{(Pictured("arm") ? " Open diamond: where the arm, or the pitch, is half way." : "")}";

    // Only what at least one picture holds is explained.
    private bool Pictured(string look) => Troubles.Any(t => t.Picture.Descendants().Any(e => (string?)e.Attribute("class") == look));

    /// <summary>What stands where nothing is open.</summary>
    public string NothingOpen => Attempts.Length > 1 ? "Nothing was left open in the attempt that is told." : "Nothing was left open.";

    /// <summary>Gathers a take and its diagnosis.</summary>
    /// <exception cref="ArgumentException">Take, diagnosis and plan are not of the same line.</exception>
    public static ReportText Of(Take take, Diagnosis diagnosis, Plan plan, ReportHeading heading)
    {
        TakeParts.Check(take, diagnosis, plan);
        var numbers = plan.Changes.Where(c => Trouble.Is(diagnosis.Changes[c.Index])).Select((c, i) => (c.Index, Number: i + 1)).ToDictionary(x => x.Index, x => x.Number);
        var open = OpenChanges.In(take, diagnosis.Changes, plan);
        int? PictureOf(int note) => plan.Changes.FirstOrDefault(c => c.ToNote == note) is { } c && numbers.TryGetValue(c.Index, out var n) ? n : null;
        return new ReportText
        {
            Heading = heading,
            Instrument = plan.Instrument.Name,
            Overall = diagnosis.Summary.Overall,
            Problems = [.. take.Problems.Select(p => p.ToString())],
            Aims = AimWords.Lines(diagnosis, plan),
            WorkOnFirst = diagnosis.Summary.WorkOnFirst,
            Marks = [.. MarksOf(take, diagnosis, plan, numbers)],
            Troubles = [.. plan.Changes.Where(c => numbers.ContainsKey(c.Index)).Select(c => Trouble.Of(take, diagnosis, plan, c, numbers[c.Index]))],
            Notes = [.. NotesOf(take, diagnosis, plan)],
            Rows = [.. take.Notes.Select(n => ReportRow.Of(take, diagnosis, plan, n.Index, PictureOf(n.Index)))],
            Attempts = AttemptText.Attempts(take, diagnosis, named: true),
            Unmatched = AttemptText.Unmatched(take, diagnosis, plan),
            Judged = open.Judged,
            Open = open.Open,
            Unknown = Shortened(UnknownThings.Of(take, diagnosis, plan)),
            Measures = AttemptText.Room(take) is { } room ? [.. Page.Measures.Paragraphs, room] : Page.Measures.Paragraphs,
            Limits = Page.Measures.Limits(diagnosis.Settings),
            Counts = [.. CountsOf(plan.Changes.Where(c => Extent.Holds(take, c)).Select(c => diagnosis.Changes[c.Index].Findings), diagnosis.Notes)],
        };
    }

    private static IEnumerable<(Verdict Verdict, int Count)> CountsOf(IEnumerable<ImmutableArray<Finding>> changes, ImmutableArray<NoteJudgement> notes)
    {
        var borne = changes.SelectMany(c => c.Select(f => f.Verdict).Distinct().Where(v => v != Verdict.CannotTell || TakeParts.Worst(c) == v));
        var off = notes.SelectMany(n => n.Verdicts.Where(VerdictMarks.IsOfNotes));
        return borne.Concat(off).GroupBy(v => v).OrderBy(g => g.Key).Select(g => (g.Key, g.Count()));
    }

    // Every open change stands in the table too.
    private static ImmutableArray<string> Shortened(ImmutableArray<string> lines)
    {
        const int Most = 12;
        return lines.Length <= Most + 1 ? lines : [.. lines.Take(Most), $"and {lines.Length - Most} more, which the table names"];
    }

    private static IEnumerable<PlacedMark> MarksOf(Take take, Diagnosis diagnosis, Plan plan, Dictionary<int, int> numbers)
    {
        if (!diagnosis.IsRecognised) yield break;
        foreach (var change in plan.Changes)
        {
            var note = plan.Notes[change.ToNote].Note;
            var worst = TakeParts.Worst(diagnosis.Changes[change.Index].Findings);
            if (!Extent.Holds(take, change) || (worst == Verdict.CannotTell && take.Notes[change.ToNote].Instead is not null)) continue;
            if (note.NoteIds.IsDefaultOrEmpty || (worst == Verdict.Clean && change.Kind == ChangeKind.Breath)) continue;
            yield return new(note.NoteIds[0], note.Pass, worst, numbers.TryGetValue(change.Index, out var n) ? n : null, worst switch
            {
                Verdict.Clean => "",
                Verdict.AddedNote when take.Changes[change.Index].CaughtPitch is { } caught => $"+{AddedNotes.Name(plan, caught).ToDisplay()}",
                _ => VerdictMarks.Of(worst).Short,
            });
        }

        foreach (var judged in diagnosis.Notes.Where(n => n.Verdicts.Any(VerdictMarks.IsOfNotes)))
        {
            var note = plan.Notes[judged.Index].Note;
            if (take.Notes[judged.Index].Instead is { } other)
            {
                if (!note.NoteIds.IsDefaultOrEmpty) yield return new(note.NoteIds[0], note.Pass, Verdict.WrongNote, null, other.ToDisplay());
                continue;
            }

            if (!note.NoteIds.IsDefaultOrEmpty) yield return new(note.NoteIds[0], note.Pass, Verdict.OutOfTune, null, (judged.Cents ?? take.Notes[judged.Index].Cents)?.Value < 0 ? "flat" : "sharp");
        }
    }

    private static IEnumerable<string> NotesOf(Take take, Diagnosis diagnosis, Plan plan)
    {
        var together = VibratoWords.Together(take);
        if (together is not null) yield return together;
        foreach (var judged in diagnosis.Notes)
        {
            var remarks = VibratoWords.Others(judged.Remarks, take.Notes[judged.Index], together is not null).ToList();
            var (off, wrong) = (judged.Verdicts.Contains(Verdict.OutOfTune), judged.Verdicts.Contains(Verdict.WrongNote));
            if (!off && !wrong && remarks.Count == 0) continue;
            var note = plan.Notes[judged.Index].Note;
            var heard = take.Notes[judged.Index];
            IEnumerable<string> said = off ? [$"{Figures.OfCents(judged.Cents ?? heard.Cents, judged.CentsBounds ?? heard.CentsBounds)}.", judged.Advice] : wrong ? [judged.Advice] : [];
            yield return $"Bar {note.Bar}, beat {TakeParts.BeatWords(note.Beat)}{TakeParts.PassWords(note.Pass)}, {ReportRow.NameOf(plan.Notes[judged.Index])}: {string.Join(" ", said.Concat(remarks))}";
        }
    }
}
