using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Planning;

/// <summary>A plan as JSON, schema <c>seamwright.plan/1</c>; docs/plan-json.md tells every field.</summary>
public static class PlanJson
{
    public const string Schema = "seamwright.plan/1";

    /// <summary>Writes UTF-8 JSON, indented; centimetres, cents, seconds and milliseconds rounded to what the physics supports.</summary>
    public static void Write(Plan plan, Stream output)
    {
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("title", plan.Line.Title);
        json.WriteString("instrument", plan.Instrument.Id);
        json.WriteNumber("cost", Math.Round(plan.Cost, 4));
        json.WriteStartArray("notes");
        foreach (var note in plan.Notes) WriteNote(json, note);
        json.WriteEndArray();
        json.WriteStartArray("changes");
        foreach (var change in plan.Changes) WriteChange(json, change);
        json.WriteEndArray();
        WriteProblems(json, plan.Problems);
        json.WriteEndObject();
    }

    /// <summary>Writes the array <c>problems</c>: {where, what, hint, severity}.</summary>
    public static void WriteProblems(Utf8JsonWriter json, IEnumerable<Problem> problems)
    {
        json.WriteStartArray("problems");
        foreach (var p in problems)
        {
            json.WriteStartObject();
            json.WriteString("where", p.Where);
            json.WriteString("what", p.What);
            json.WriteString("hint", p.Hint);
            json.WriteString("severity", p.Severity.ToString().ToLowerInvariant());
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteNote(Utf8JsonWriter json, PlannedNote planned)
    {
        var note = planned.Note;
        json.WriteStartObject();
        json.WriteNumber("index", note.Index);
        json.WriteString("bar", note.Bar);
        json.WriteString("beat", note.Beat.ToString());
        json.WriteNumber("pass", note.Pass);
        json.WriteString("pitch", note.Pitch.ToString());
        json.WriteNumber("midi", note.Pitch.Midi);
        json.WriteString("startBeats", note.Start.ToString());
        json.WriteString("beats", note.Length.ToString());
        json.WriteNumber("startSeconds", Math.Round(note.StartTime.Value, 4));
        json.WriteNumber("seconds", Math.Round(note.Duration.Value, 4));
        if (planned.Setting is { } setting)
        {
            json.WriteStartObject("setting");
            InstrumentJson.WriteSetting(json, setting);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNull("setting");
        }

        json.WriteBoolean("locked", planned.Locked);
        json.WriteStartArray("alternatives");
        foreach (var alternative in planned.Alternatives)
        {
            json.WriteStartObject();
            InstrumentJson.WriteSetting(json, alternative.Setting);
            json.WriteNumber("extraCost", Math.Round(alternative.ExtraCost, 3));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteChange(Utf8JsonWriter json, NoteChange change)
    {
        json.WriteStartObject();
        json.WriteNumber("index", change.Index);
        json.WriteNumber("fromNote", change.FromNote);
        json.WriteNumber("toNote", change.ToNote);
        json.WriteString("kind", change.Kind.WireName());
        if (change.Intent is { } intent) json.WriteString("intent", intent.WireName());
        json.WriteString("reason", change.Reason);
        if (change.Travel is { } travel) json.WriteNumber("travelCm", Math.Round(travel.Value, 2) + 0.0);
        json.WriteString("pitchMotion", change.PitchMotion.ToString().ToLowerInvariant());
        json.WriteString("slideMotion", change.SlideMotion.ToString().ToLowerInvariant());
        json.WriteNumber("timeAvailableMs", Math.Round(change.TimeAvailable.Milliseconds, 1));
        json.WriteNumber("moveMs", Math.Round(change.MoveTime.Milliseconds, 1));
        json.WriteNumber("peakSpeed", Math.Round(change.PeakSpeed, 3));
        if (change.TongueOffset is { } tongue) json.WriteNumber("tongueOffsetMs", Math.Round(tongue.Milliseconds, 1) + 0.0);
        json.WriteNumber("smearIfUntonguedMs", Math.Round(change.SmearIfUntongued.Milliseconds, 1));
        json.WriteNumber("difficulty", Math.Round(change.Difficulty, 3));
        json.WriteBoolean("plausible", change.Plausible);
        json.WriteEndObject();
    }
}
