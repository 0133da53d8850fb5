using System.Collections.Immutable;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Features.Practice;

/// <summary>Something more that can be asked of some kinds of exercise: a field of the form, and a member of the order.</summary>
/// <param name="Name">In the address; the same as in a book's recipe.</param>
/// <param name="Member">Of <see cref="ExerciseOrder"/>.</param>
/// <param name="Words">Beside the field.</param>
/// <param name="Example">In an empty field.</param>
/// <param name="Choices">On a horn; none where anything may be written.</param>
/// <param name="Set">Puts what was written into an order; null where it cannot be read.</param>
internal sealed record WishDetail(
    string Name, string Member, string Words, string Example, Func<Instrument, ImmutableArray<(string Value, string Words)>> Choices, Func<ExerciseOrder, string, ExerciseOrder?> Set)
{
    /// <summary>In the order of the form.</summary>
    public static ImmutableArray<WishDetail> All { get; } =
    [
        Choice("chord", nameof(ExerciseOrder.Chord), "Chord", _ => [("", "as the level has it"), .. Arpeggio.All.Select(a => (a.Name, a.Words))], (o, t) => o with { Chord = t }),
        Choice("interval", nameof(ExerciseOrder.Interval), "Interval", _ => [("", "as the level has it"), ("3", "thirds"), ("4", "fourths"), ("5", "fifths"), ("6", "sixths"), ("7", "sevenths"), ("8", "octaves")], (o, t) => Whole(t) is { } n ? o with { Interval = n } : null),
        Written("note", nameof(ExerciseOrder.Note), "Note, as it sounds", "Bb3", (o, t) => Pitch.TryParse(t, out var note) ? o with { Note = note } : null),
        Written("positions", nameof(ExerciseOrder.Positions), "From position to position", "1-4", (o, t) => Numbers(t) is [var from, var to] && IsWhole(from) && IsWhole(to) ? o with { Positions = ((int)from, (int)to) } : null),
        Choice("valve", nameof(ExerciseOrder.Valve), "Valve", horn => [("", "the horn's first"), .. horn.Sides.Where(s => !s.Valves.IsEmpty).Select(s => (s.Label, s.Label))], (o, t) => o with { Valve = t }),
        Written("pattern", nameof(ExerciseOrder.Pattern), "Figure, in degrees of the scale", "1 2 3 1", (o, t) => o with { Pattern = t }),
        Written("touches", nameof(ExerciseOrder.Touches), "Touches to the beat", "2 3 4", (o, t) => Numbers(t) is { } all && all.All(IsWhole) ? o with { Touches = [.. all.Select(n => (int)n)] } : null),
        Choice("octaves", nameof(ExerciseOrder.Octaves), "Octaves", _ => [("", "as the level has it"), ("1", "one"), ("2", "two")], (o, t) => Whole(t) is { } n ? o with { Octaves = n } : null),
        Choice("way", nameof(ExerciseOrder.Way), "Way", _ => [("", "both ways"), ("up", "up"), ("down", "down")], (o, t) => Enum.TryParse<ScaleWay>(t, ignoreCase: true, out var way) && Enum.IsDefined(way) ? o with { Way = way } : null),
        Written("degree", nameof(ExerciseOrder.Degree), "Begins on degree", "1", (o, t) => Whole(t) is { } n ? o with { Degree = n } : null),
        Written("count", nameof(ExerciseOrder.Count), "How many at most", "3", (o, t) => Whole(t) is { } n ? o with { Count = n } : null),
        Written("tempos", nameof(ExerciseOrder.Tempos), "Tempo ladder, quarter notes a minute", "40 50 60", (o, t) => Numbers(t) is { } all ? o with { Tempos = [.. all] } : null),
    ];

    /// <summary>Whether a kind has a use for it; a ladder of tempos is everyone's.</summary>
    public bool IsFor(ExerciseKind kind) => Member == nameof(ExerciseOrder.Tempos) || kind.Uses.Contains(Member);

    /// <summary>That what was written cannot be read.</summary>
    public Problem Unread(string text) => new(Words, $"'{text}' is not understood here.", Example.Length == 0 ? "Choose one of those in the list." : $"Write it as in {Example}, or leave it empty.", Severity.Error);

    /// <summary>A wish in words: <c>Tempo ladder 40 50 60</c>.</summary>
    public string Said(string text, Instrument horn) => $"{Words.Split(',')[0].ToLowerInvariant()} {Choices(horn).Where(c => c.Value == text).Select(c => c.Words).FirstOrDefault(text)}";

    private static WishDetail Choice(string name, string member, string words, Func<Instrument, ImmutableArray<(string Value, string Words)>> choices, Func<ExerciseOrder, string, ExerciseOrder?> set) =>
        new(name, member, words, "", choices, set);

    private static WishDetail Written(string name, string member, string words, string example, Func<ExerciseOrder, string, ExerciseOrder?> set) => new(name, member, words, example, _ => [], set);

    private static int? Whole(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : null;

    private static bool IsWhole(double n) => n == Math.Floor(n);

    // With blanks, commas or dashes between; null where something is no number.
    private static List<double>? Numbers(string text)
    {
        var parts = text.Split([' ', ',', ';', '-', '–'], StringSplitOptions.RemoveEmptyEntries);
        var numbers = parts.Select(p => double.TryParse(p, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var n) ? n : double.NaN).ToList();
        return numbers.Count > 0 && numbers.TrueForAll(n => n < int.MaxValue) ? numbers : null;
    }
}
