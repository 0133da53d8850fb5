using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>A calibration before and after, as plain text for a terminal of 80 columns.</summary>
public static class CalibrationText
{
    private const int Columns = 78;

    public static void Write(CalibrationResult result, TextWriter output)
    {
        Paragraph(output, Heading(result), "");
        WriteTuning(result, output);
        WritePartials(result, output);
        WritePositions(result, output);
        WriteNotes(result, output);
        output.WriteLine();
        output.WriteLine("Could not be told");
        foreach (var line in result.Unknown) Paragraph(output, line, "  - ");
    }

    private static string Heading(CalibrationResult result)
    {
        var slurred = result.Notes.Count(n => n.Exercise == ExerciseKind.LipSlur);
        var used = $"{result.Before.Name}: {Count(slurred)} of lip slurs in 1st position and {result.Notes.Length - slurred} of a chromatic scale were used";
        var rest = result.NotesLeftOut > 0 ? $", {result.NotesLeftOut} left out." : ".";
        return used + rest + (result.Changed ? "" : " Nothing is surely different: the instrument is as it was.");
    }

    private static void WriteTuning(CalibrationResult result, TextWriter output)
    {
        output.WriteLine();
        if (result.Tuning is not { } t)
        {
            Paragraph(output, $"{Tuning(result)} (no scale: from the partials' median)", "A4  ");
            return;
        }

        Paragraph(output, $"{Tuning(result)} ({Signed(t.Cents)} cents, {Range(t.Bounds.Low, t.Bounds.High)}, {Count(t.Notes)})", "A4  ");
    }

    private static string Tuning(CalibrationResult result) => $"{result.Before.A4.Value:0.0} Hz before, {result.After.A4.Value:0.0} Hz after";

    private static void WritePartials(CalibrationResult result, TextWriter output)
    {
        if (result.Partials.IsEmpty) return;
        output.WriteLine();
        output.WriteLine("Partials, slide closed: cents above the harmonic");
        output.WriteLine($"  {"partial",7} {"before",7} {"heard",7}  {"90 % interval",-16} {"notes",5}  ");
        foreach (var p in result.Partials)
            output.WriteLine($"  {p.Partial,7} {Signed(p.Before),7} {Signed(p.Heard),7}  {Range(p.Bounds.Low, p.Bounds.High),-16} {p.Notes,5}  {(p.Written ? "new" : "as it was")}");
    }

    private static void WritePositions(CalibrationResult result, TextWriter output)
    {
        if (!result.Positions.IsEmpty)
        {
            output.WriteLine();
            output.WriteLine("Slide, where it was on the average: per cent of the effective length, and cm");
            output.WriteLine($"  {"position",8} {"heard %",8}  {"90 % interval",-16} {"cm before",9} {"cm heard",9} {"notes",5}");
            foreach (var p in result.Positions)
                output.WriteLine($"  {p.Semitone + 1,8} {100 * p.Share,8:0.00}  {$"{100 * p.Bounds.Low:0.00} to {100 * p.Bounds.High:0.00}",-16} {p.Before.Value,9:0.0} {p.After.Value,9:0.0} {p.Notes,5}");
        }

        if (result.LongestSlide is { } semitones)
            Paragraph(output, $"Longest slide heard on one partial: {semitones:0.0} semitones.", "");
    }

    private static void WriteNotes(CalibrationResult result, TextWriter output)
    {
        output.WriteLine();
        output.WriteLine("Notes: cents beside what the instrument says");
        output.WriteLine($"  {"time",8}  {"note",-5} {"taken for",-22} {"before",7} {"after",7}");
        foreach (var n in result.Notes)
        {
            var exercise = n.Partial is { } p ? $"lip slur, partial {p}" : "scale";
            output.WriteLine($"  {n.Time.Value,8:0.0}  {n.Pitch.ToDisplay(),-5} {exercise,-22} {Signed(n.Before),7} {Signed(n.After),7}{(n.IsOutlier ? "  far off: counts little" : "")}");
        }
    }

    private static string Count(int notes) => $"{notes} note{(notes == 1 ? "" : "s")}";

    private static string Range(Cents low, Cents high) => $"{Signed(low)} to {Signed(high)}";

    private static string Signed(Cents cents) => cents.Value.ToString("+0.0;-0.0;0.0");

    private static void Paragraph(TextWriter output, string text, string lead)
    {
        var (line, fresh) = (lead, true);
        foreach (var word in text.Split(' '))
        {
            if (!fresh && line.Length + 1 + word.Length > Columns)
            {
                output.WriteLine(line);
                (line, fresh) = (new string(' ', lead.Length), true);
            }

            (line, fresh) = (fresh ? line + word : $"{line} {word}", false);
        }

        output.WriteLine(line);
    }
}
