using System.Text.Json;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Diagnosis;

/// <summary>What an exercise asked and how far it was done, as JSON; docs/take-json.md tells every field.</summary>
internal static class AimJson
{
    /// <summary>Writes <c>aims</c> and <c>tonePairs</c>; neither where no exercise asked.</summary>
    public static void Write(Utf8JsonWriter json, Diagnosis diagnosis)
    {
        WriteAll(json, "aims", diagnosis.Aims, Write);
        WriteAll(json, "tonePairs", diagnosis.TonePairs, Write);
    }

    private static void WriteAll<T>(Utf8JsonWriter json, string name, IReadOnlyCollection<T> all, Action<Utf8JsonWriter, T> write)
    {
        if (all.Count == 0) return;
        json.WriteStartArray(name);
        foreach (var one in all)
        {
            json.WriteStartObject();
            write(json, one);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Write(Utf8JsonWriter json, Aim aim)
    {
        json.WriteString("intent", aim.Intent.WireName());
        json.WriteNumber("asked", aim.Asked);
        json.WriteNumber("fulfilled", aim.Fulfilled);
        json.WriteNumber("open", aim.Open);
        json.WriteStartObject("aimVerdicts");
        foreach (var (verdict, count) in aim.Faults) json.WriteNumber(verdict.WireName(), count);
        json.WriteEndObject();
        json.WriteString("sentence", aim.Sentence);
    }

    private static void Write(Utf8JsonWriter json, TonePair pair)
    {
        Span(json, "imaginedNotes", pair.Imagined.First, pair.Imagined.Last);
        Span(json, "touchedNotes", pair.Touched.First, pair.Touched.Last);
        if (pair.Air.Level is { } level) Figure(json, "levelDb", level.Change.Value, level.Bounds.Low.Value, level.Bounds.High.Value, 2);
        if (pair.Air.Pitch is { } pitch) Figure(json, "pitchCents", pitch.Change.Value, pitch.Bounds.Low.Value, pitch.Bounds.High.Value, 1);
        if (pair.Air.BrightnessPercent is { } bright) Figure(json, "brightnessPercent", bright.Change, bright.Bounds.Low, bright.Bounds.High, 1);
        json.WriteStartArray("verdicts");
        foreach (var finding in pair.Air.Findings) json.WriteStringValue(finding.Verdict.WireName());
        json.WriteEndArray();
        json.WriteStartArray("basis");
        foreach (var finding in pair.Air.Findings) json.WriteStringValue(finding.Basis);
        json.WriteEndArray();
        json.WriteString("advice", pair.Air.Sentence);
    }

    private static void Span(Utf8JsonWriter json, string name, int first, int last)
    {
        json.WriteStartArray(name);
        json.WriteNumberValue(first);
        json.WriteNumberValue(last);
        json.WriteEndArray();
    }

    private static void Figure(Utf8JsonWriter json, string name, double value, double low, double high, int digits)
    {
        HeardJson.Number(json, name, value, digits);
        json.WriteStartArray($"{name}Interval");
        json.WriteNumberValue(Math.Round(low, digits));
        json.WriteNumberValue(Math.Round(high, digits));
        json.WriteEndArray();
    }
}
