using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Listening;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>A take and what is said about it as JSON, schema <c>seamwright.take/1</c>; docs/take-json.md tells every field.</summary>
/// <remarks>A quantity that could not be measured is absent, never 0 and never null.</remarks>
public static class TakeJson
{
    public const string Schema = "seamwright.take/1";

    /// <summary>Writes UTF-8 JSON, indented; times to 0.1 ms, levels to 0.1 dB, pitches to 0.1 cents.</summary>
    /// <exception cref="ArgumentException">Take, diagnosis and plan are not of the same line.</exception>
    public static void Write(Take take, Diagnosis diagnosis, Plan plan, Stream output)
    {
        TakeParts.Check(take, diagnosis, plan);
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("title", plan.Line.Title);
        json.WriteString("instrument", plan.Instrument.Id);
        json.WriteStartArray("notes");
        for (var i = 0; i < take.Notes.Length; i++) WriteNote(json, take.Notes[i], diagnosis.Notes[i]);
        json.WriteEndArray();
        json.WriteStartArray("changes");
        for (var i = 0; i < take.Changes.Length; i++) WriteChange(json, take.Changes[i], diagnosis.Changes[i], plan.Changes[i]);
        json.WriteEndArray();
        WriteSummary(json, diagnosis.Summary);
        PlanJson.WriteProblems(json, take.Problems);
        json.WriteEndObject();
    }

    private static void WriteNote(Utf8JsonWriter json, HeardNote note, NoteJudgement judgement)
    {
        json.WriteStartObject();
        json.WriteNumber("index", note.Index);
        json.WriteString("pitch", note.Pitch.ToString());
        json.WriteBoolean("found", note.Found);
        Number(json, "onset", note.Onset?.Value, 4);
        Number(json, "offset", note.Offset?.Value, 4);
        Number(json, "cents", note.Cents?.Value, 1);
        Number(json, "levelDb", note.Level?.Value, 1);
        Number(json, "slideMm", judgement.SlideCorrection?.Millimetres, 1);
        WriteFindings(json, judgement.Findings, judgement.Advice);
        json.WriteEndObject();
    }

    private static void WriteChange(Utf8JsonWriter json, HeardChange heard, ChangeJudgement judgement, NoteChange planned)
    {
        json.WriteStartObject();
        json.WriteNumber("index", heard.Index);
        json.WriteNumber("fromNote", planned.FromNote);
        json.WriteNumber("toNote", planned.ToNote);
        json.WriteString("kind", judgement.Kind.WireName());
        Number(json, "glideMs", heard.Glide?.Milliseconds, 1);
        Number(json, "glideCentre", heard.GlideCentre?.Value, 4);
        Number(json, "glideSemitones", heard.GlideSemitones, 2);
        Number(json, "audibleGlideMs", heard.AudibleGlide?.Milliseconds, 1);
        Number(json, "dipDb", heard.Dip?.Value, 1);
        Number(json, "dipWidthMs", heard.DipWidth?.Milliseconds, 1);
        Number(json, "dipCentre", heard.DipCentre?.Value, 4);
        Number(json, "tongueOffsetMs", heard.TongueOffset?.Milliseconds, 1);
        Number(json, "gapMs", heard.Gap?.Milliseconds, 1);
        Number(json, "overshootDb", heard.Overshoot?.Value, 1);
        Number(json, "caughtHz", heard.CaughtPitch?.Value, 2);
        WriteFindings(json, judgement.Findings, judgement.Advice);
        json.WriteEndObject();
    }

    private static void WriteFindings(Utf8JsonWriter json, IEnumerable<Finding> findings, string advice)
    {
        json.WriteStartArray("verdicts");
        foreach (var finding in findings) json.WriteStringValue(finding.Verdict.WireName());
        json.WriteEndArray();
        json.WriteStartArray("basis");
        foreach (var finding in findings) json.WriteStringValue(finding.Basis);
        json.WriteEndArray();
        json.WriteString("advice", advice);
    }

    private static void WriteSummary(Utf8JsonWriter json, DiagnosisSummary summary)
    {
        json.WriteStartObject("summary");
        json.WriteString("overall", summary.Overall);
        json.WriteNumber("notesAsked", summary.NotesAsked);
        json.WriteNumber("notesFound", summary.NotesFound);
        Number(json, "tuningCents", summary.Tuning?.Value, 1);
        Number(json, "tempoRatio", summary.TempoRatio, 3);
        WriteCounts(json, "changeVerdicts", summary.ChangeCounts);
        WriteCounts(json, "noteVerdicts", summary.NoteCounts);
        json.WriteStartArray("workOnFirst");
        foreach (var sentence in summary.WorkOnFirst) json.WriteStringValue(sentence);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteCounts(Utf8JsonWriter json, string name, IEnumerable<KeyValuePair<Verdict, int>> counts)
    {
        json.WriteStartObject(name);
        foreach (var (verdict, count) in counts) json.WriteNumber(verdict.WireName(), count);
        json.WriteEndObject();
    }

    // Adding 0 turns a rounded −0 into 0.
    private static void Number(Utf8JsonWriter json, string name, double? value, int digits)
    {
        if (value is { } v && double.IsFinite(v)) json.WriteNumber(name, Math.Round(v, digits) + 0.0);
    }
}
