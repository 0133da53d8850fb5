using System.Collections.Immutable;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>A diagnosis as plain text for a terminal of 80 columns.</summary>
public static class TakeText
{
    private const int Columns = 78;

    /// <summary>Writes summary, what to work on first, troubled changes and notes, and what could not be told.</summary>
    /// <param name="take">What was heard.</param>
    /// <param name="diagnosis">Of this take.</param>
    /// <param name="plan">What was asked.</param>
    /// <param name="output">Gets the text.</param>
    /// <param name="whereTheRest">For a screen: where the remarks stand that are left out beyond the first eight. Null: all are written.</param>
    /// <exception cref="ArgumentException">Take, diagnosis and plan are not of the same line.</exception>
    public static void Write(Take take, Diagnosis diagnosis, Plan plan, TextWriter output, string? whereTheRest = null)
    {
        TakeParts.Check(take, diagnosis, plan);
        Paragraph(output, diagnosis.Summary.Overall, "");
        WriteProblems(take, output);
        WriteList("Attempts", AttemptText.Attempts(take, diagnosis), "  ", output);
        WriteList("What the exercise asked", AimWords.Lines(diagnosis, plan), "  - ", output);
        WriteWork(diagnosis, output);
        WriteChanges(take, diagnosis, plan, output);
        WriteList("Wrong notes", WrongNoteWords.Lines(plan, diagnosis.Notes, diagnosis.Changes), "  - ", output);
        WriteNotes(take, diagnosis, plan, output);
        WriteList("Remarks", [.. TakeRemarks.Of(take, diagnosis, plan, whereTheRest)], "  - ", output);
        WriteList("Could not be told", UnknownThings.Of(take, diagnosis, plan), "  - ", output);
        WriteList("Sound that belongs to no note", AttemptText.Unmatched(take, diagnosis, plan), "  - ", output);
        output.WriteLine();
        if (AttemptText.Room(take) is { } room) Paragraph(output, room, "");
        Paragraph(output, "Levels are relative to this take, never sound pressure. Glide: 10 to 90 % of the pitch's way. Tongue: middle of the dip against the middle of the glide, + is late.", "");
    }

    private static void WriteProblems(Take take, TextWriter output)
    {
        if (take.Problems.IsEmpty) return;
        output.WriteLine();
        foreach (var problem in take.Problems) Paragraph(output, problem.ToString(), "! ");
    }

    private static void WriteWork(Diagnosis diagnosis, TextWriter output)
    {
        if (diagnosis.Summary.WorkOnFirst.IsEmpty) return;
        output.WriteLine();
        output.WriteLine("Work on first");
        for (var i = 0; i < diagnosis.Summary.WorkOnFirst.Length; i++) Paragraph(output, diagnosis.Summary.WorkOnFirst[i], $"  {i + 1}. ");
    }

    private static void WriteChanges(Take take, Diagnosis diagnosis, Plan plan, TextWriter output)
    {
        var faulty = plan.Changes.Where(c => TakeParts.Worst(diagnosis.Changes[c.Index].Findings).Gravity() is Gravity.Fault or Gravity.Watch).ToList();
        var open = OpenChanges.In(take, diagnosis.Changes, plan);
        if (plan.Changes.IsEmpty) return;
        output.WriteLine();
        if (open.Judged == 0)
        {
            output.WriteLine("Changes: none could be judged.");
            return;
        }

        output.WriteLine(faulty.Count == 0
            ? $"Changes: nothing to mend in {open.Judgeable}."
            : $"Changes to mend: {faulty.Count} of {open.Of}; {open.Judged - faulty.Count} clean{(open.Open == 0 ? "" : $", {open.Open} could not be judged")}");
        if (faulty.Count == 0) return;
        output.WriteLine($"  {(plan.Line.FromRecording ? "time" : "bar  beat"),10}  {"notes",-8} {(plan.Line.FromRecording ? "taken for" : "asked for"),-12} {"glide",7} {"dip",6} {"tongue",8}  verdict");
        foreach (var change in faulty) WriteChange(take, diagnosis, plan, change, output);
    }

    private static void WriteChange(Take take, Diagnosis diagnosis, Plan plan, NoteChange change, TextWriter output)
    {
        var (heard, judgement) = (take.Changes[change.Index], diagnosis.Changes[change.Index]);
        var note = plan.Notes[change.ToNote].Note;
        var pair = $"{plan.Notes[change.FromNote].Note.Pitch.ToDisplay()}-{note.Pitch.ToDisplay()}";
        var verdicts = string.Join(", ", judgement.Shown.Select(v => v.Words()));
        var row = $"{TakeParts.RowOf(plan, note)}  {pair,-8} {KindWords(plan, judgement),-12} "
            + $"{Figure(heard.Glide?.Milliseconds, "0", "ms"),7} {DipFigure.Of(heard),6} {Figure(TongueFigure.Of(take, diagnosis, plan, change)?.Offset.Milliseconds, "+0;−0;0", "ms"),8}  ";
        Paragraph(output, verdicts + TakeParts.PassWords(note.Pass), row);
    }

    // Which setting was taken nobody knows, so neither whether it was to break.
    private static string KindWords(Plan plan, ChangeJudgement judgement) =>
        plan.Line.FromRecording && judgement.Kind is (ChangeKind.NaturalSlur or ChangeKind.ValveSlur or ChangeKind.SoftTongue) ? "joined" : judgement.Intent is { } intent ? AimWords.Short(intent) : judgement.Kind.Words();

    private static void WriteNotes(Take take, Diagnosis diagnosis, Plan plan, TextWriter output)
    {
        var off = diagnosis.Notes.Where(n => n.Intonation == Intonation.Out).ToList();
        if (off.Count == 0) return;
        output.WriteLine();
        output.WriteLine($"Notes out of tune: {off.Count} of {take.Notes.Length}");
        foreach (var judgement in off)
        {
            var note = plan.Notes[judgement.Index].Note;
            var cents = Figure((judgement.Cents ?? take.Notes[judgement.Index].Cents)?.Value, "+0;−0;0", "cents");
            Paragraph(output, $"{cents}, {SlideWords(judgement)}", $"{TakeParts.RowOf(plan, note)}  {note.Pitch.ToDisplay(),-4} {(plan.Line.FromRecording ? null : plan.Notes[judgement.Index].Setting?.Label) ?? "?",-4} ");
        }
    }

    private static void WriteList(string heading, ImmutableArray<string> lines, string lead, TextWriter output)
    {
        if (lines.IsEmpty) return;
        output.WriteLine();
        output.WriteLine(heading);
        foreach (var line in lines) Paragraph(output, line, lead);
    }

    /// <summary><c>slide 4 mm further in</c>.</summary>
    internal static string SlideWords(NoteJudgement judgement) => judgement.SlideCorrection?.Millimetres switch
    {
        null when judgement.BeyondSlide => "more than the slide can mend",
        null => "slide correction not known",
        { } mm when Math.Abs(mm) < 0.5 => "slide as it is",
        { } mm => $"slide {Math.Abs(mm):0} mm further {(mm > 0 ? "out" : "in")}",
    };

    private static string Figure(double? value, string format, string unit) => value is { } v ? $"{v.ToString(format)} {unit}" : "-";

    // Wraps at blanks; further lines stand under the first word.
    private static void Paragraph(TextWriter output, string text, string lead)
    {
        var line = lead;
        var fresh = true;
        foreach (var word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!fresh && line.Length + 1 + word.Length > Columns)
            {
                output.WriteLine(line);
                line = new string(' ', lead.Length);
                fresh = true;
            }

            line += fresh ? word : " " + word;
            fresh = false;
        }

        output.WriteLine(line.TrimEnd());
    }
}
