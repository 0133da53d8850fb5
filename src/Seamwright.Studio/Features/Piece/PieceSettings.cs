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
using Seamwright.Studio.Serving;
using Seamwright.Studio.Store;

namespace Seamwright.Studio.Features.Piece;

/// <summary>How one piece is played and shown: what the page's form asks and the store keeps.</summary>
public sealed record PieceSettings
{
    private static readonly JsonSerializerOptions Json = new() { DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingDefault, UnmappedMemberHandling = JsonUnmappedMemberHandling.Skip };

    /// <summary>Who plays it; 0 for nobody in particular.</summary>
    public long Player { get; init; }

    /// <summary>Key of an instrument.</summary>
    public string Instrument { get; init; } = Catalogue.DefaultId;

    /// <summary>Id of a part of the score, with <c>/</c> and its voice where it has one; empty for the one that fits the horn best.</summary>
    public string Part { get; init; } = "";

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

    /// <summary>Locks of other horns, keys and parts, for whoever comes back to them.</summary>
    public ImmutableSortedDictionary<string, ImmutableSortedDictionary<int, string>> LocksElsewhere { get; init; } = ImmutableSortedDictionary<string, ImmutableSortedDictionary<int, string>>.Empty;

    /// <summary>Parts with notes, as the form offers them.</summary>
    public static IReadOnlyList<(string Value, string Words)> PartsOf(Score score) =>
        [.. score.Parts.Where(p => p.Notes.Any()).Select(p => (p.Voice.Length > 0 ? $"{p.Id}/{p.Voice}" : p.Id, p.Voice.Length > 0 ? $"{p.Name}, voice {p.Voice}" : p.Name))];

    /// <summary>Id and voice of the part in a score; neither where it is not there.</summary>
    public (string? Id, string? Voice) PartIn(Score score)
    {
        if (Part.Length == 0 || PartsOf(score).All(p => p.Value != Part)) return default;
        var cut = Part.LastIndexOf('/');
        return cut < 0 ? (Part, null) : (Part[..cut], Part[(cut + 1)..]);
    }

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

    /// <summary>The same for a player: their horn, arm, clef and way of tonguing. Another horn has locks of its own.</summary>
    public PieceSettings For(StoredPlayer player) => Refitted(this with
    {
        Player = player.Id,
        Instrument = player.Card.Horn,
        Furthest = player.Card.Furthest,
        NoValves = player.Card.NoValves,
        Policy = player.Card.Policy,
        Prefer = player.Card.Prefer,
        Clef = player.Card.Clef,
        Syllable = player.Card.Syllable,
    });

    /// <summary>Those that another piece of the same player's keeps.</summary>
    public PieceSettings ForAnother() => this with { Part = "", Key = "", Octave = 0, Tempo = null, Locks = ImmutableSortedDictionary<int, string>.Empty, LocksElsewhere = ImmutableSortedDictionary<string, ImmutableSortedDictionary<int, string>>.Empty };

    /// <summary>From the page's form; what is out of its range is told and left as it was. Another player brings all that is theirs;
    /// another part, key or instrument has locks of its own.</summary>
    /// <param name="form">The page's.</param>
    /// <param name="horns">Keys of the instruments there are.</param>
    /// <param name="players">Those there are.</param>
    public (PieceSettings Settings, ImmutableArray<Problem> Problems) From(IFormCollection form, IEnumerable<string> horns, IReadOnlyList<StoredPlayer> players)
    {
        var fields = new FormFields(form);
        var player = long.TryParse(form["player"], NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? id : 0;
        if (player != Player && players.FirstOrDefault(p => p.Id == player) is { } known) return (For(known), []);
        var made = this with
        {
            Player = player,
            Instrument = fields.Among("instrument", [Instrument, .. horns], Instrument),
            Part = fields.Text("part", 200, Part),
            Tempo = fields.Number("tempo", 10, 400, Tempo),
            Key = KeyOf(fields),
            Octave = (int)(fields.Number("octave", -3, 3, Octave) ?? 0),
            Policy = fields.Among("policy", PlayerCard.Policies, Policy),
            Prefer = fields.Among("prefer", CostWeights.Presets.Keys, Prefer),
            Furthest = fields.Number("furthest", 1, 8, Furthest),
            NoValves = form["no-valves"] == "on",
            Clef = fields.Among("clef", ["", .. ClefNames.All], Clef),
            Syllable = fields.Text("syllable", 8, Syllable),
        };
        return (Refitted(made), [.. fields.Problems]);
    }

    // A position fixed on one horn, in one key, means nothing in another; who comes back finds it again.
    private PieceSettings Refitted(PieceSettings made) => made.Place == Place ? made : made with
    {
        LocksElsewhere = Locks.IsEmpty ? LocksElsewhere.Remove(Place) : LocksElsewhere.SetItem(Place, Locks),
        Locks = LocksElsewhere.GetValueOrDefault(made.Place, ImmutableSortedDictionary<int, string>.Empty),
    };

    private string Place => $"{Instrument} {Key} {Octave.ToString(CultureInfo.InvariantCulture)} {Part}";

    private string KeyOf(FormFields fields)
    {
        var text = fields.Text("key", 12, Key);
        if (text.Length == 0 || KeyName.TryParse(text, out _)) return text;
        fields.Problems.Add(new("key", $"'{text}' is not a key such as Eb, F# or Cm.", "It stays as it was."));
        return Key;
    }

    /// <summary>By whom and how it is planned.</summary>
    public PlanSettings Plan() => new PlayerCard { Furthest = Furthest, NoValves = NoValves, Policy = Policy, Prefer = Prefer }.Plan() with
    {
        Locks = [.. Locks.Where(l => SettingPattern.TryParse(l.Value, out _)).Select(l => new NoteLock(l.Key, SettingPattern.TryParse(l.Value, out var p) ? p : SettingPattern.AnyValve))],
    };

    /// <summary>Where the part is to be moved; null where it stays.</summary>
    public KeyWish? Wish() => Key.Length == 0 && Octave == 0 ? null : new KeyWish(KeyName.TryParse(Key, out var key) ? key : null, Interval.Unison, Octave);
}
