using System.Collections.Immutable;
using System.Text.Json;
using Seamwright.Core.Units;

namespace Seamwright.Core.Instruments;

/// <summary>Reads a player's own instrument from JSON, schema <c>seamwright.instrument/1</c>; docs/instrument-file.md tells every field.</summary>
public static partial class InstrumentFile
{
    public const string Schema = "seamwright.instrument/1";

    /// <summary>Reads and validates the whole file.</summary>
    /// <param name="content">UTF-8 JSON, at most 1 MB.</param>
    /// <param name="fileName">For messages.</param>
    /// <returns>The instrument, or every mistake with its path in the file.</returns>
    public static Outcome<Instrument> Read(Stream content, string fileName)
    {
        var problems = new List<Problem>();
        using var document = JsonFields.Parse(content, fileName, problems);
        if (document is null) return Outcome<Instrument>.Failed(problems);
        var instrument = ReadRoot(document.RootElement, problems);
        return problems.Count == 0 && instrument is not null
            ? Outcome<Instrument>.Of(instrument)
            : Outcome<Instrument>.Failed(problems.Select(p => p with { Where = $"{fileName}: {p.Where}" }));
    }

    private static Instrument? ReadRoot(JsonElement element, List<Problem> problems)
    {
        var root = new JsonFields(element, "$", problems);
        if (root.Text("schema", required: true) is { } schema && schema != Schema)
            root.Wrong("$.schema", $"is \"{schema}\".", $"This program reads \"{Schema}\".");
        var id = root.Text("id", required: true);
        var name = root.Text("name") ?? id;
        var pedal = PitchOf(root, "pedal", required: true);
        var a4 = new Hertz(root.Number("a4", 380, 500, " Hz") ?? 440);
        var air = AirOf(root, problems);
        var clef = ClefOf(root);
        var offsets = OffsetsOf(root);
        var highest = (int)(root.Number("highestPartial", 2, 16, "") ?? 12);
        var residual = root.Number("largestResidualCents", 0, 50, " cents") ?? 25;
        var open = OpenSide(root, pedal, air, a4);
        var furthest = root.Number("furthestTravelCm", 5, 150, " cm");
        var valves = ValvesOf(root, open, air, a4);
        var combinations = CombinationsOf(root, valves, open, air, a4);
        root.RejectUnknown();
        if (problems.Count > 0 || open is null || id is null || name is null) return null;
        return new Instrument
        {
            Id = id,
            Name = name,
            Pedal = pedal!.Value,
            A4 = a4,
            Air = air,
            Sides = [open, .. valves.Where(v => v.Needs.Length == 0).Select(v => v.Side), .. combinations],
            PartialOffsets = offsets,
            HighestPartial = highest,
            LargestResidual = new(residual),
            FurthestTravel = new(furthest ?? DefaultTravel(open)),
            UsualClef = clef,
        };
    }

    // Most slides reach seventh position and hardly further: 6 semitones and a millimetre.
    private static double DefaultTravel(Side open) => Tube.TravelFor(open.EffectiveLength, 6).Value + 0.1;

    private static Pitch? PitchOf(JsonFields fields, string name, bool required)
    {
        if (fields.Text(name, required) is not { } text) return null;
        if (Pitch.TryParse(text, out var pitch) && pitch.Midi is >= 12 and <= 60) return pitch;
        fields.Wrong(fields.Under(name), $"is \"{text}\".", "A pedal pitch such as \"Bb1\" is needed, between C0 and C4.");
        return null;
    }

    private static Air AirOf(JsonFields root, List<Problem> problems)
    {
        if (root.Object("air") is not { } fields) return Air.Standard;
        var air = new Air
        {
            TemperatureC = fields.Number("temperatureC", double.MinValue, double.MaxValue, " °C") ?? 20,
            Humidity = fields.Number("humidity", double.MinValue, double.MaxValue, "") ?? 0,
            PressureKPa = fields.Number("pressureKPa", double.MinValue, double.MaxValue, " kPa") ?? 101.325,
            CarbonDioxidePpm = fields.Number("carbonDioxidePpm", double.MinValue, double.MaxValue, " ppm") ?? 400,
        };
        fields.RejectUnknown();
        problems.AddRange(air.Validate("$.air"));
        return air;
    }

    private static Clef ClefOf(JsonFields root)
    {
        if (root.Text("usualClef") is not { } text) return Clef.Bass;
        if (text is "bass" or "tenor" or "alto") return Enum.Parse<Clef>(text, ignoreCase: true);
        root.Wrong("$.usualClef", $"is \"{text}\".", "It must be \"bass\", \"tenor\" or \"alto\".");
        return Clef.Bass;
    }

    private static ImmutableDictionary<int, Cents> OffsetsOf(JsonFields root)
    {
        var offsets = ImmutableDictionary.CreateBuilder<int, Cents>();
        if (root.Object("partialOffsetsCents") is not { } fields) return offsets.ToImmutable();
        foreach (var (name, _, path) in fields.Members())
        {
            if (!int.TryParse(name, out var partial) || partial is < 1 or > 16)
            {
                fields.Wrong(path, "is not a partial.", "Name partials \"1\" to \"16\".");
                continue;
            }

            if (fields.Number(name, -100, 100, " cents") is { } cents) offsets[partial] = new(cents);
        }

        return offsets.ToImmutable();
    }

    private static Side? OpenSide(JsonFields root, Pitch? pedal, Air air, Hertz a4)
    {
        var given = root.Number("effectiveLengthM", 0.5, 10, " m");
        var travel = root.Object("measuredTravel");
        if (given is not null && travel is not null)
            root.Wrong("$.measuredTravel", "stands beside effectiveLengthM.", "Give one of the two: each fixes the other.");
        var measured = MeasuredLength(travel);
        if (pedal?.Frequency(a4) is not { } fundamental) return null;
        var length = given is { } metres ? Centimetres.FromMetres(metres) : measured ?? Tube.LengthOf(air.SpeedOfSound, fundamental);
        return new Side { Id = "open", Valves = [], Label = "", Fundamental = fundamental, EffectiveLength = length };
    }

    private static Centimetres? MeasuredLength(JsonFields? travel)
    {
        if (travel is null) return null;
        var semitones = travel.Number("semitones", 0.5, 7, "");
        var cm = travel.Number("cm", 1, 150, " cm");
        if (!travel.Has("semitones") || !travel.Has("cm")) travel.Wrong(travel.Path, "needs both semitones and cm.", "For instance {\"semitones\": 3, \"cm\": 27.5}.");
        travel.RejectUnknown();
        return semitones is { } k && cm is { } x ? new Centimetres(2 * x / (Math.Pow(2, k / 12) - 1)) : null;
    }

    private static List<(Side Side, ImmutableArray<string> Needs)> ValvesOf(JsonFields root, Side? open, Air air, Hertz a4)
    {
        var valves = new List<(Side, ImmutableArray<string>)>();
        foreach (var (element, path) in root.Array("valves"))
        {
            var fields = new JsonFields(element, path, root.Problems);
            var id = fields.Text("id", required: true);
            var pedal = PitchOf(fields, "pedal", required: false);
            ImmutableArray<string> needs = [.. fields.Texts("needs")];
            var side = SideOf(fields, id, id is null ? [] : [id], pedal, open, air, a4, requirePitch: needs.IsEmpty);
            fields.RejectUnknown();
            if (id is null) continue;
            if (id.Contains('+') || id.Length is 0 or > 8) fields.Wrong(fields.Under("id"), $"is \"{id}\".", "A valve id has 1 to 8 characters and no +.");
            if (valves.Any(v => v.Item1.Id == id)) fields.Wrong(fields.Under("id"), $"\"{id}\" stands twice.", "Give each valve an id of its own.");
            foreach (var n in needs.Where(n => valves.All(v => v.Item1.Id != n)))
                fields.Wrong(fields.Under("needs"), $"names \"{n}\".", "It must name a valve listed before this one.");
            if (side is not null) valves.Add((side, needs));
        }

        return valves;
    }

    private static ImmutableArray<Side> CombinationsOf(
        JsonFields root, List<(Side Side, ImmutableArray<string> Needs)> valves, Side? open, Air air, Hertz a4)
    {
        var combinations = ImmutableArray.CreateBuilder<Side>();
        foreach (var (element, path) in root.Array("combinations"))
        {
            var fields = new JsonFields(element, path, root.Problems);
            ImmutableArray<string> down = [.. fields.Texts("valves")];
            var pedal = PitchOf(fields, "pedal", required: false);
            if (down.Length < 2) fields.Wrong(fields.Under("valves"), "names fewer than two valves.", "A combination joins two or more.");
            foreach (var v in down.Where(v => valves.All(x => x.Side.Id != v)))
                fields.Wrong(fields.Under("valves"), $"names \"{v}\".", "It must name valves of this instrument.");
            if (open is not null && down.All(v => valves.Any(x => x.Side.Id == v)))
            {
                var side = pedal is null && !fields.Has("effectiveLengthM")
                    ? Added(fields.Text("label"), down, valves, open)
                    : SideOf(fields, string.Join('+', down), down, pedal, open, air, a4, requirePitch: false);
                if (side is not null) combinations.Add(side);
            }

            fields.RejectUnknown();
        }

        foreach (var (side, needs) in valves.Where(v => v.Needs.Length > 0))
        {
            if (!combinations.Any(c => c.Valves.Contains(side.Id)))
                root.Wrong("$.combinations", $"has none with the dependent valve \"{side.Id}\".", $"Add one that joins it to {string.Join(" and ", needs)}.");
        }

        return combinations.ToImmutable();
    }

    // Tubing adds up: L = L_open + sum of what each valve adds, and the pitch follows.
    private static Side Added(string? label, ImmutableArray<string> down, List<(Side Side, ImmutableArray<string> Needs)> valves, Side open)
    {
        var extra = down.Sum(v => valves.First(x => x.Side.Id == v).Side.EffectiveLength.Value - open.EffectiveLength.Value);
        var length = open.EffectiveLength.Value + extra;
        return new Side
        {
            Id = string.Join('+', down),
            Valves = down,
            Label = label ?? string.Join('+', down),
            Fundamental = new(open.Fundamental.Value * open.EffectiveLength.Value / length),
            EffectiveLength = new(length),
        };
    }

    private static Side? SideOf(
        JsonFields fields, string? id, ImmutableArray<string> down, Pitch? pedal, Side? open, Air air, Hertz a4, bool requirePitch)
    {
        var label = fields.Text("label") ?? id;
        var metres = fields.Number("effectiveLengthM", 0.5, 15, " m");
        if (pedal is null && metres is null)
        {
            if (requirePitch && !fields.Has("pedal")) fields.Wrong(fields.Path, "has neither pedal nor effectiveLengthM.", "Give the pedal pitch with this valve down, the length, or both.");
            if (requirePitch || open is null) return null;
        }

        if (open is null || id is null || label is null) return null;
        var length = metres is { } m ? Centimetres.FromMetres(m)
            : pedal is { } p ? new(Tube.LengthOf(air.SpeedOfSound, p.Frequency(a4)).Value)
            : open.EffectiveLength;
        var fundamental = pedal?.Frequency(a4) ?? new Hertz(open.Fundamental.Value * open.EffectiveLength.Value / length.Value);
        if (fundamental.Value > open.Fundamental.Value)
            fields.Wrong(fields.Under("pedal"), "is higher than the open horn's.", "A valve adds tubing, so it lowers the pedal.");
        return new Side { Id = id, Valves = down, Label = label, Fundamental = fundamental, EffectiveLength = length };
    }

}
