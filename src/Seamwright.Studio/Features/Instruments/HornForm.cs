using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http;
using Seamwright.Core;
using Seamwright.Core.Instruments;

namespace Seamwright.Studio.Features.Instruments;

/// <summary>Changes an instrument by a form: what the form says goes into the instrument's file, which is then read as any other.</summary>
internal static class HornForm
{
    private const int LongestName = 80, Semitones = 6;

    /// <summary>The instrument as the form wants it, or what is wrong with it by the form's own words.</summary>
    /// <param name="content">The instrument's file.</param>
    /// <param name="form">Fields <c>name</c>, <c>a4</c>, <c>temperature</c>, <c>seventh</c> (cm), <c>furthest</c> (cm), <c>clef</c>,
    /// <c>pedal-ID</c> for each valve alone and <c>partial-N</c> (cents); what is empty is as the physics has it.</param>
    public static Outcome<Instrument> Apply(byte[] content, IFormCollection form)
    {
        List<Problem> problems = [];
        var root = JsonNode.Parse(content)!.AsObject();
        var name = form["name"].ToString().Trim();
        if (name.Length is 0 or > LongestName) problems.Add(new("name", $"has {name.Length} letters.", $"A horn's name has 1 to {LongestName}.", Severity.Error));
        root["name"] = name;
        root["a4"] = Number("a4", "A4 in Hz") ?? 440;
        Set("furthestTravelCm", Number("furthest", "furthest the slide goes, cm"));
        if (form["clef"].ToString() is { Length: > 0 } clef) root["usualClef"] = clef;
        if (Number("temperature", "air, °C") is { } temperature) Air(root)["temperatureC"] = temperature;
        Length(root);
        Valves(root);
        Offsets(root);
        if (problems.Count > 0) return Outcome<Instrument>.Failed(problems);
        using var changed = new MemoryStream(Encoding.UTF8.GetBytes(root.ToJsonString()));
        return InstrumentFile.Read(changed, name);

        double? Number(string field, string words)
        {
            var text = form[field].ToString().Trim().Replace(',', '.');
            if (text.Length == 0) return null;
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)) return value;
            problems.Add(new(words, $"is '{text}'.", "Give a number.", Severity.Error));
            return null;
        }

        void Set(string member, double? value)
        {
            if (value is { } v) root[member] = v;
            else root.Remove(member);
        }

        // A ruler's measure stands in place of the length that pedal and air imply.
        void Length(JsonObject open)
        {
            if (Number("seventh", "closed to 7th position, cm") is not { } cm) return;
            open.Remove("effectiveLengthM");
            open["measuredTravel"] = new JsonObject { ["semitones"] = Semitones, ["cm"] = cm };
        }

        void Valves(JsonObject open)
        {
            foreach (var valve in (open["valves"] as JsonArray ?? []).OfType<JsonObject>())
            {
                if (form[$"pedal-{valve["id"]}"].ToString().Trim() is not { Length: > 0 } pedal) continue;
                if (valve["pedal"]?.ToString() != pedal) valve.Remove("effectiveLengthM");
                valve["pedal"] = pedal;
            }
        }

        void Offsets(JsonObject open)
        {
            var offsets = new JsonObject();
            for (var n = 1; n <= 16; n++)
            {
                if (Number($"partial-{n}", $"partial {n}, cents") is { } cents && cents != 0) offsets[$"{n}"] = cents;
            }

            open["partialOffsetsCents"] = offsets;
        }
    }

    private static JsonObject Air(JsonObject root)
    {
        if (root["air"] is JsonObject air) return air;
        var fresh = new JsonObject();
        root["air"] = fresh;
        return fresh;
    }
}
