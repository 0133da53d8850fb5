using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>Instruments and settings as JSON for other programs; docs/instrument-file.md tells every field.</summary>
public static class InstrumentJson
{
    private static readonly JsonWriterOptions Format = new() { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Schema <c>seamwright.instruments/1</c>: every instrument with its range and its sides.</summary>
    public static void WriteAll(IEnumerable<Instrument> instruments, Stream output)
    {
        using var json = new Utf8JsonWriter(output, Format);
        json.WriteStartObject();
        json.WriteString("schema", "seamwright.instruments/1");
        json.WriteStartArray("instruments");
        foreach (var instrument in instruments) WriteInstrument(json, instrument);
        json.WriteEndArray();
        json.WriteEndObject();
    }

    /// <summary>Schema <c>seamwright.positions/1</c>: every setting of one pitch.</summary>
    public static void WriteSettings(Instrument instrument, Pitch pitch, IEnumerable<SlideSetting> settings, Stream output)
    {
        using var json = new Utf8JsonWriter(output, Format);
        json.WriteStartObject();
        json.WriteString("schema", "seamwright.positions/1");
        json.WriteString("instrument", instrument.Id);
        json.WriteString("pitch", pitch.ToString());
        json.WriteNumber("midi", pitch.Midi);
        json.WriteNumber("frequencyHz", Math.Round(pitch.Frequency(instrument.A4).Value, 3));
        json.WriteStartArray("settings");
        foreach (var setting in settings)
        {
            json.WriteStartObject();
            WriteSetting(json, setting);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    /// <summary>Writes the members of a setting into an object that is already open.</summary>
    public static void WriteSetting(Utf8JsonWriter json, SlideSetting setting)
    {
        json.WriteStartArray("valves");
        foreach (var valve in setting.Valves) json.WriteStringValue(valve);
        json.WriteEndArray();
        json.WriteNumber("partial", setting.Partial);
        json.WriteNumber("position", Math.Round(setting.Position, 1));
        json.WriteNumber("slideCm", Math.Round(setting.Travel.Value, 2));
        json.WriteNumber("correctionCents", Tenth(setting.Correction));
        json.WriteNumber("residualCents", Tenth(setting.Residual));
        json.WriteString("label", setting.Label);
    }

    // Adding zero turns a rounded −0 into 0.
    private static double Tenth(Cents cents) => Math.Round(cents.Value, 1) + 0.0;

    private static void WriteInstrument(Utf8JsonWriter json, Instrument instrument)
    {
        var (low, high) = instrument.Range();
        json.WriteStartObject();
        json.WriteString("id", instrument.Id);
        json.WriteString("name", instrument.Name);
        json.WriteString("pedal", instrument.Pedal.ToString());
        json.WriteNumber("a4", instrument.A4.Value);
        json.WriteNumber("temperatureC", instrument.Air.TemperatureC);
        json.WriteNumber("furthestTravelCm", Math.Round(instrument.FurthestTravel.Value, 2));
        json.WriteString("lowest", low.ToString());
        json.WriteString("highest", high.ToString());
        json.WriteStartArray("sides");
        foreach (var side in instrument.Sides)
        {
            json.WriteStartObject();
            json.WriteString("id", side.Id);
            json.WriteString("label", side.Label);
            json.WriteNumber("fundamentalHz", Math.Round(side.Fundamental.Value, 3));
            json.WriteNumber("effectiveLengthM", Math.Round(side.EffectiveLength.Metres, 4));
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
