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
        if (plan.Line.FromRecording) WriteFree(json, plan);
        json.WriteStartArray("notes");
        for (var i = 0; i < take.Notes.Length; i++) HeardJson.WriteNote(json, take.Notes[i], diagnosis.Notes[i]);
        json.WriteEndArray();
        json.WriteStartArray("changes");
        for (var i = 0; i < take.Changes.Length; i++) HeardJson.WriteChange(json, take.Changes[i], diagnosis.Changes[i], plan.Changes[i]);
        json.WriteEndArray();
        AimJson.Write(json, diagnosis);
        AttemptJson.WriteAttempts(json, take, diagnosis, plan);
        AttemptJson.WriteUnmatched(json, take.Unmatched);
        AttemptJson.WriteDamage(json, take.Damage);
        AttemptJson.WriteRoom(json, take.Room);
        WriteSummary(json, diagnosis.Summary);
        PlanJson.WriteProblems(json, take.Problems);
        json.WriteEndObject();
    }

    private static void WriteFree(Utf8JsonWriter json, Plan plan)
    {
        json.WriteBoolean("part", false);
        json.WriteNumber("a4Hz", Math.Round(plan.Instrument.A4.Value, 2));
    }

    private static void WriteSummary(Utf8JsonWriter json, DiagnosisSummary summary)
    {
        json.WriteStartObject("summary");
        json.WriteString("overall", summary.Overall);
        json.WriteNumber("notesAsked", summary.NotesAsked);
        json.WriteNumber("notesFound", summary.NotesFound);
        if (summary.Attempt is { } told) json.WriteNumber("attempt", told + 1);
        HeardJson.Number(json, "tuningCents", summary.Tuning?.Value, 1);
        HeardJson.Interval(json, "tuningCentsInterval", summary.OwnTuning?.Bounds, c => c.Value, 1);
        HeardJson.Number(json, "tuningSlideMm", summary.TuningSlide?.Millimetres, 1);
        HeardJson.Number(json, "tempoRatio", summary.TempoRatio, 3);
        WriteCounts(json, "changeVerdicts", summary.ChangeCounts);
        WriteCounts(json, "noteVerdicts", summary.NoteCounts);
        WriteSentences(json, "workOnFirst", summary.WorkOnFirst);
        if (!summary.Comparison.IsEmpty) WriteSentences(json, "comparison", summary.Comparison);
        json.WriteEndObject();
    }

    private static void WriteSentences(Utf8JsonWriter json, string name, IEnumerable<string> sentences)
    {
        json.WriteStartArray(name);
        foreach (var sentence in sentences) json.WriteStringValue(sentence);
        json.WriteEndArray();
    }

    private static void WriteCounts(Utf8JsonWriter json, string name, IEnumerable<KeyValuePair<Verdict, int>> counts)
    {
        json.WriteStartObject(name);
        foreach (var (verdict, count) in counts) json.WriteNumber(verdict.WireName(), count);
        json.WriteEndObject();
    }
}
