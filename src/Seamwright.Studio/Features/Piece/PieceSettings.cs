using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Http;
using Seamwright.Core;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Piece;

/// <summary>How one piece is played and shown: what the page's form asks and the store keeps.</summary>
public sealed record PieceSettings
{
    private static readonly JsonSerializerOptions Json = new() { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault, UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip };

    /// <summary>Of the catalogue.</summary>
    public string Instrument { get; init; } = Catalogue.DefaultId;

    /// <summary>Quarter notes a minute, 10 to 400; null as written.</summary>
    public double? Tempo { get; init; }

    /// <summary>A key's name; empty as written.</summary>
    public string Key { get; init; } = "";

    /// <summary>−3 to 3.</summary>
    public int Octave { get; init; }

    /// <summary><c>where-needed</c>, <c>every-note</c> or <c>natural-only</c>.</summary>
    public string Policy { get; init; } = "where-needed";

    /// <summary>A preset of <see cref="CostWeights"/>.</summary>
    public string Prefer { get; init; } = "natural-first";

    /// <summary>1 to 8; null as far as the slide goes.</summary>
    public double? Furthest { get; init; }

    public bool NoValves { get; init; }

    /// <summary>Empty for the part's own.</summary>
    public string Clef { get; init; } = "";

    public string Syllable { get; init; } = "du";

    /// <summary>Prescribed settings by note index in played order.</summary>
    public ImmutableSortedDictionary<int, string> Locks { get; init; } = ImmutableSortedDictionary<int, string>.Empty;

    public static PieceSettings Read(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<PieceSettings>(json, Json) ?? new();
        }
        catch (JsonException)
        {
            return new();
        }
    }

    public string Write() => JsonSerializer.Serialize(this, Json);

    /// <summary>From the page's form; what is out of its range is told and left as it was. Another key or instrument frees all locks.</summary>
    public (PieceSettings Settings, ImmutableArray<Problem> Problems) From(IFormCollection form)
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        var made = this with
        {
            Instrument = Among("instrument", Catalogue.Ids, Instrument),
            Tempo = Number("tempo", 10, 400, Tempo),
            Key = KeyOf(),
            Octave = (int)(Number("octave", -3, 3, Octave) ?? 0),
            Policy = Among("policy", ["where-needed", "every-note", "natural-only"], Policy),
            Prefer = Among("prefer", CostWeights.Presets.Keys, Prefer),
            Furthest = Number("furthest", 1, 8, Furthest),
            NoValves = form["no-valves"] == "on",
            Clef = Among("clef", ["", .. ClefNames.All], Clef),
            Syllable = form["syllable"].ToString().Trim() is { Length: <= 8 } s ? s : Syllable,
        };
        if (made.Instrument != Instrument || made.Key != Key || made.Octave != Octave) made = made with { Locks = ImmutableSortedDictionary<int, string>.Empty };
        return (made, problems.ToImmutable());

        string Among(string name, IEnumerable<string> allowed, string now)
        {
            var value = form[name].ToString();
            if (allowed.Contains(value)) return value;
            if (value.Length > 0) problems.Add(new(name, $"'{value}' is not known here.", "It stays as it was."));
            return now;
        }

        double? Number(string name, double low, double high, double? now)
        {
            var text = form[name].ToString().Trim();
            if (text.Length == 0) return null;
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high) return value;
            problems.Add(new(name, $"is '{text}'; it must be a number from {low} to {high}.", "It stays as it was."));
            return now;
        }

        string KeyOf()
        {
            var text = form["key"].ToString().Trim();
            if (text.Length == 0 || KeyName.TryParse(text, out _)) return text;
            problems.Add(new("key", $"'{text}' is not a key such as Eb, F# or Cm.", "It stays as it was."));
            return Key;
        }
    }

    /// <summary>By whom and how it is planned.</summary>
    public PlanSettings Plan() => new()
    {
        Player = new Player
        {
            FurthestPosition = Furthest,
            ValvesAllowed = !NoValves,
            Policy = Policy switch { "every-note" => TonguePolicy.EveryNote, "natural-only" => TonguePolicy.NaturalSlursOnly, _ => TonguePolicy.WhereItWouldSmear },
        },
        Weights = CostWeights.Presets.GetValueOrDefault(Prefer, CostWeights.NaturalFirst),
        Locks = [.. Locks.Where(l => SettingPattern.TryParse(l.Value, out _)).Select(l => new NoteLock(l.Key, SettingPattern.TryParse(l.Value, out var p) ? p : SettingPattern.AnyValve))],
    };

    /// <summary>Where the part is to be moved; null where it stays.</summary>
    public KeyWish? Wish() => Key.Length == 0 && Octave == 0 ? null : new KeyWish(KeyName.TryParse(Key, out var key) ? key : null, Interval.Unison, Octave);
}
