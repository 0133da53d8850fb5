using System.Text.Encodings.Web;
using System.Text.Json;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <content>Writes what <see cref="Read"/> reads.</content>
public static partial class InstrumentFile
{
    // A length that differs by less than this from what pedal and air imply need not be written.
    private const double SameLength = 1e-4;
    private const double SamePitch = 0.5;

    /// <summary>As <see cref="Write"/>, in memory.</summary>
    public static byte[] Bytes(Instrument instrument)
    {
        using var content = new MemoryStream();
        Write(instrument, content);
        return content.ToArray();
    }

    /// <summary>Writes an instrument so that <see cref="Read"/> gives the same one again: lengths to 0.1 mm, cents to 0.1.</summary>
    public static void Write(Instrument instrument, Stream output)
    {
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteString("schema", Schema);
        json.WriteString("id", instrument.Id);
        json.WriteString("name", instrument.Name);
        WriteTube(json, instrument, instrument.Open, needsPedal: true);
        json.WriteNumber("a4", Math.Round(instrument.A4.Value, 2));
        WriteAir(json, instrument.Air);
        WriteValves(json, instrument);
        WriteOffsets(json, instrument);
        json.WriteNumber("furthestTravelCm", Math.Round(instrument.FurthestTravel.Value, 2));
        json.WriteNumber("highestPartial", instrument.HighestPartial);
        json.WriteNumber("largestResidualCents", Math.Round(instrument.LargestResidual.Value, 1));
        json.WriteString("usualClef", JsonNamingPolicy.CamelCase.ConvertName(instrument.UsualClef.ToString()));
        json.WriteEndObject();
    }

    // Pedal and length of a tube, each only where the other does not imply it.
    private static void WriteTube(Utf8JsonWriter json, Instrument instrument, Side side, bool needsPedal = false)
    {
        var semitones = 69 + (12 * Math.Log2(side.Fundamental.Value / instrument.A4.Value));
        var pedal = needsPedal ? instrument.Pedal : Pitch.FromMidi((int)Math.Round(semitones));
        var tuned = needsPedal || Math.Abs(side.Fundamental.Above(pedal.Frequency(instrument.A4)).Value) < SamePitch;
        if (tuned) json.WriteString("pedal", pedal.ToString());
        var implied = Tube.LengthOf(instrument.Air.SpeedOfSound, pedal.Frequency(instrument.A4)).Value;
        if (!tuned || Math.Abs((side.EffectiveLength.Value / implied) - 1) > SameLength) json.WriteNumber("effectiveLengthM", Math.Round(side.EffectiveLength.Metres, 4));
    }

    private static void WriteAir(Utf8JsonWriter json, Air air)
    {
        if (air == Air.Standard) return;
        json.WriteStartObject("air");
        json.WriteNumber("temperatureC", air.TemperatureC);
        json.WriteNumber("humidity", air.Humidity);
        json.WriteNumber("pressureKPa", air.PressureKPa);
        json.WriteNumber("carbonDioxidePpm", air.CarbonDioxidePpm);
        json.WriteEndObject();
    }

    private static void WriteValves(Utf8JsonWriter json, Instrument instrument)
    {
        var alone = instrument.Sides.Where(x => x.Valves.Length == 1).ToList();
        var joined = instrument.Sides.Where(x => x.Valves.Length > 1).ToList();
        if (alone.Count + joined.Count == 0) return;
        json.WriteStartArray("valves");
        foreach (var side in alone) WriteValve(json, side.Id, side.Label, [], () => WriteTube(json, instrument, side));
        foreach (var id in joined.SelectMany(x => x.Valves).Distinct().Where(v => alone.All(x => x.Id != v)).ToList())
            WriteValve(json, id, id, joined.First(x => x.Valves.Contains(id)).Valves.Where(v => alone.Any(x => x.Id == v)), () => { });
        json.WriteEndArray();
        if (joined.Count == 0) return;
        json.WriteStartArray("combinations");
        foreach (var side in joined)
        {
            json.WriteStartObject();
            json.WriteStartArray("valves");
            foreach (var v in side.Valves) json.WriteStringValue(v);
            json.WriteEndArray();
            json.WriteString("label", side.Label);
            WriteTube(json, instrument, side);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void WriteValve(Utf8JsonWriter json, string id, string label, IEnumerable<string> needs, Action tube)
    {
        json.WriteStartObject();
        json.WriteString("id", id);
        json.WriteString("label", label);
        tube();
        var with = needs.ToList();
        if (with.Count > 0)
        {
            json.WriteStartArray("needs");
            foreach (var v in with) json.WriteStringValue(v);
            json.WriteEndArray();
        }

        json.WriteEndObject();
    }

    private static void WriteOffsets(Utf8JsonWriter json, Instrument instrument)
    {
        if (instrument.PartialOffsets.IsEmpty) return;
        json.WriteStartObject("partialOffsetsCents");
        foreach (var (partial, cents) in instrument.PartialOffsets.OrderBy(p => p.Key)) json.WriteNumber($"{partial}", Math.Round(cents.Value, 1));
        json.WriteEndObject();
    }
}
