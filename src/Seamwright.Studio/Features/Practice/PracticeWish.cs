using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Studio.Features.Practice;

/// <summary>What the page's form asks for, as it stands in its address.</summary>
public sealed record PracticeWish
{
    private const int UsualLevel = 3, LongestDetail = 200;

    /// <summary>A kind of exercise; empty before anything was asked.</summary>
    public string Kind { get; init; } = "";

    /// <summary>Somebody of the workbench's; 0 for nobody, then horn and level count.</summary>
    public long Player { get; init; }

    public string Instrument { get; init; } = Catalogue.DefaultId;

    /// <summary>As it was asked for; 1 to 6 can be made.</summary>
    public int Level { get; init; } = UsualLevel;

    /// <summary>A key's name, <c>all</c>, or empty for the one the level takes.</summary>
    public string Key { get; init; } = "";

    /// <summary>A scale's name; empty for major.</summary>
    public string Scale { get; init; } = "";

    /// <summary><c>low</c>, <c>middle</c>, <c>high</c> or <c>all</c>; empty for the middle.</summary>
    public string Register { get; init; } = "";

    /// <summary>A piece to draw from; 0 for none.</summary>
    public long Piece { get; init; }

    /// <summary>One change of the piece, by its index; null for the hardest ones.</summary>
    public int? Change { get; init; }

    /// <summary>What else was written, by the name of a <see cref="WishDetail"/>; empty fields are left out.</summary>
    public ImmutableSortedDictionary<string, string> Details { get; init; } = ImmutableSortedDictionary<string, string>.Empty;

    /// <summary>From the end of an address, as <see cref="Query"/> gives it.</summary>
    public static PracticeWish Read(string query) => From(new QueryCollection(QueryHelpers.ParseQuery(query)));

    public static PracticeWish From(IQueryCollection query) => new()
    {
        Kind = query["kind"].ToString(),
        Player = long.TryParse(query["player"], NumberStyles.None, CultureInfo.InvariantCulture, out var player) ? player : 0,
        Change = int.TryParse(query["change"], NumberStyles.None, CultureInfo.InvariantCulture, out var change) ? change : null,
        Instrument = query["instrument"].ToString() is { Length: > 0 } i ? i : Catalogue.DefaultId,
        Level = query["level"].ToString() is { Length: > 0 } level ? (int.TryParse(level, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0) : UsualLevel,
        Key = query["key"].ToString(),
        Scale = query["scale"].ToString(),
        Register = query["register"].ToString(),
        Piece = long.TryParse(query["piece"], NumberStyles.None, CultureInfo.InvariantCulture, out var piece) ? piece : 0,
        Details = WishDetail.All.Select(d => (d.Name, Text: query[d.Name].ToString().Trim())).Where(d => d.Text.Length is > 0 and <= LongestDetail).ToImmutableSortedDictionary(d => d.Name, d => d.Text),
    };

    /// <summary>As the end of an address.</summary>
    public string Query => string.Create(CultureInfo.InvariantCulture,
        $"kind={Uri.EscapeDataString(Kind)}&instrument={Uri.EscapeDataString(Instrument)}&level={Level}&key={Uri.EscapeDataString(Key)}&scale={Uri.EscapeDataString(Scale)}&register={Uri.EscapeDataString(Register)}&piece={Piece}&player={Player}{(Change is { } c ? $"&change={c}" : "")}") + string.Concat(Details.Select(d => $"&{d.Key}={Uri.EscapeDataString(d.Value)}"));

    /// <summary>What the kind uses of it; what it does not use is left out, so that a choice left standing does no harm.</summary>
    /// <param name="tune">The piece, where one was named.</param>
    public Outcome<ExerciseOrder> Order(Tune? tune)
    {
        if (ExerciseMaker.Find(Kind) is not { } kind) return Outcome<ExerciseOrder>.Failed("exercise", $"'{Kind}' is no kind of exercise.", $"There are: {string.Join(", ", ExerciseMaker.Kinds.Select(k => k.Name))}.");
        if (kind.NeedsTune && tune is null) return Outcome<ExerciseOrder>.Failed("piece", "is missing: this exercise is drawn from music.", "Choose one under “A piece to draw from”.");
        bool Uses(string member) => kind.Uses.Contains(member);
        var scale = Scale.Length > 0 ? Scale : null;
        var keys = Key == "all" ? [.. TwelveKeys.Named(scale, null)]
            : KeyName.TryParse(Key, out var one) ? [one] : Array.Empty<KeyName>();
        if (Key.Length > 0 && keys.Length == 0) return Outcome<ExerciseOrder>.Failed("key", $"'{Key}' is not a key such as Eb or F#.", "Choose one.");
        return WithDetails(kind, new ExerciseOrder
        {
            Kind = Kind,
            Keys = Uses(nameof(ExerciseOrder.Keys)) && keys.Length > 0 ? [.. keys] : null,
            Scale = Uses(nameof(ExerciseOrder.Scale)) ? scale : null,
            Register = Uses(nameof(ExerciseOrder.Register)) && Enum.TryParse<Register>(Register, ignoreCase: true, out var r) ? r : null,
            Tune = Uses(nameof(ExerciseOrder.Tune)) ? tune : null,
            Change = Uses(nameof(ExerciseOrder.Tune)) && tune is not null ? Change : null,
        });
    }

    private Outcome<ExerciseOrder> WithDetails(ExerciseKind kind, ExerciseOrder order)
    {
        List<Problem> problems = [];
        foreach (var detail in WishDetail.All.Where(d => d.IsFor(kind)))
        {
            if (!Details.TryGetValue(detail.Name, out var text)) continue;
            if (detail.Set(order, text) is { } made) order = made;
            else problems.Add(detail.Unread(text));
        }

        return problems.Count == 0 ? Outcome<ExerciseOrder>.Of(order) : Outcome<ExerciseOrder>.Failed(problems);
    }
}
