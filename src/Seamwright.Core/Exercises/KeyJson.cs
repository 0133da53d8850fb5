using System.Text.Encodings.Web;
using System.Text.Json;

namespace Seamwright.Core.Exercises;

/// <summary>A ranking of keys as JSON, schema <c>seamwright.keys/1</c>; docs/keys.md tells every field.</summary>
public static class KeyJson
{
    public const string Schema = "seamwright.keys/1";

    /// <summary>Writes UTF-8 JSON, indented.</summary>
    /// <param name="title">Of the piece.</param>
    /// <param name="ranking">The best first.</param>
    /// <param name="count">How many of them.</param>
    /// <param name="output">Gets the text.</param>
    public static void Write(string title, KeyRanking ranking, int count, Stream output)
    {
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("title", title);
        json.WriteString("instrument", ranking.Options[0].Plan.Instrument.Id);
        json.WriteNumber("fitting", ranking.Options.Length);
        json.WriteStartArray("keys");
        foreach (var option in ranking.Options.Take(count)) Write(json, option);
        json.WriteEndArray();
        if (ranking.Written is { } written)
        {
            json.WritePropertyName("written");
            Write(json, written);
        }

        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, KeyOption option)
    {
        var s = option.Score;
        var pitches = option.Plan.Notes.Select(n => n.Note.Pitch).OrderBy(p => p.Midi).ToList();
        json.WriteStartObject();
        json.WriteString("key", option.Key.ToDisplay());
        json.WriteNumber("fifths", option.Key.Fifths);
        json.WriteNumber("semitones", option.Semitones);
        json.WriteString("lowest", pitches[0].ToString());
        json.WriteString("highest", pitches[^1].ToString());
        json.WriteNumber("total", Math.Round(s.Total, 3));
        json.WriteNumber("smears", s.Smears);
        json.WriteNumber("joined", s.Joined);
        json.WriteNumber("armMetresPerMinute", Math.Round(s.ArmPerMinute, 2));
        json.WriteNumber("farNotes", s.Far);
        json.WriteNumber("notes", s.Notes);
        json.WriteNumber("register", Math.Round(s.Register, 3));
        json.WriteNumber("accidentals", Math.Round(s.Accidentals, 2));
        json.WriteNumber("tooFast", s.Hurried);
        json.WriteString("reason", option.Reason);
        json.WriteEndObject();
    }
}
