using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>A calibration as JSON, schema <c>seamwright.calibration/1</c>; docs/calibration.md tells every field.</summary>
public static class CalibrationJson
{
    public const string Schema = "seamwright.calibration/1";

    /// <summary>Writes UTF-8 JSON, indented; what is not known is absent.</summary>
    public static void Write(CalibrationResult result, Stream output)
    {
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("instrument", result.Before.Id);
        json.WriteBoolean("changed", result.Changed);
        json.WriteNumber("a4Before", Math.Round(result.Before.A4.Value, 2));
        json.WriteNumber("a4After", Math.Round(result.After.A4.Value, 2));
        if (result.Tuning is { } t) WriteTuning(json, t);
        WriteArray(json, "partials", result.Partials, p => WritePartial(json, p));
        WriteArray(json, "positions", result.Positions, p => WritePosition(json, p));
        if (result.LongestSlide is { } slide) json.WriteNumber("longestSlideSemitones", Math.Round(slide, 2));
        WriteArray(json, "notes", result.Notes, n => WriteNote(json, n));
        json.WriteNumber("notesLeftOut", result.NotesLeftOut);
        json.WriteStartArray("unknown");
        foreach (var line in result.Unknown) json.WriteStringValue(line);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteTuning(Utf8JsonWriter json, Estimate t)
    {
        json.WriteStartObject("tuning");
        Cents(json, "cents", t.Cents);
        Interval(json, "centsInterval", t.Bounds.Low.Value, t.Bounds.High.Value, 2);
        json.WriteNumber("notes", t.Notes);
        json.WriteBoolean("written", t.Written);
        json.WriteEndObject();
    }

    private static void WritePartial(Utf8JsonWriter json, PartialEstimate p)
    {
        json.WriteNumber("partial", p.Partial);
        Cents(json, "beforeCents", p.Before);
        Cents(json, "heardCents", p.Heard);
        Interval(json, "heardCentsInterval", p.Bounds.Low.Value, p.Bounds.High.Value, 2);
        json.WriteNumber("notes", p.Notes);
        json.WriteBoolean("written", p.Written);
    }

    private static void WritePosition(Utf8JsonWriter json, PositionEstimate p)
    {
        json.WriteNumber("position", p.Semitone + 1);
        json.WriteNumber("shareOfLength", Math.Round(p.Share, 5));
        Interval(json, "shareOfLengthInterval", p.Bounds.Low, p.Bounds.High, 5);
        json.WriteNumber("cmBefore", Math.Round(p.Before.Value, 2));
        json.WriteNumber("cmHeard", Math.Round(p.After.Value, 2));
        json.WriteNumber("notes", p.Notes);
    }

    private static void WriteNote(Utf8JsonWriter json, UsedNote n)
    {
        json.WriteNumber("index", n.Index);
        json.WriteString("pitch", n.Pitch.ToString());
        json.WriteNumber("onset", Math.Round(n.Time.Value, 3));
        json.WriteString("exercise", n.Exercise == ExerciseKind.LipSlur ? "lip-slur" : "scale");
        if (n.Partial is { } partial) json.WriteNumber("partial", partial);
        Cents(json, "beforeCents", n.Before);
        Cents(json, "afterCents", n.After);
        if (n.IsOutlier) json.WriteBoolean("outlier", true);
    }

    private static void WriteArray<T>(Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> writer)
    {
        json.WriteStartArray(name);
        foreach (var item in items)
        {
            json.WriteStartObject();
            writer(item);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Cents(Utf8JsonWriter json, string name, Cents cents) => json.WriteNumber(name, Math.Round(cents.Value, 2) + 0.0);

    private static void Interval(Utf8JsonWriter json, string name, double low, double high, int digits)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(Math.Round(low, digits));
        json.WriteNumberValue(Math.Round(high, digits));
        json.WriteEndArray();
    }
}
