namespace Seamwright.Core.Exercises;

/// <summary>Finds what is wrong with an order before anything is made.</summary>
internal static class OrderCheck
{
    private const int MostAtOnce = 24;

    /// <summary>Every member that the kind does not use, and every figure out of its range.</summary>
    public static IEnumerable<Problem> Of(ExerciseOrder order, ExerciseKind kind)
    {
        foreach (var name in Given(order).Where(n => !kind.Uses.Contains(n)))
        {
            var uses = kind.Uses.IsEmpty ? "It uses tempos only." : $"It uses: {string.Join(", ", kind.Uses.Select(Word))}, tempos.";
            yield return new(Word(name), $"means nothing to the exercise '{kind.Name}'.", uses, Severity.Error);
        }

        if (order.Scale is { } scale && Scale.Find(scale) is null) yield return new("scale", $"'{scale}' is no scale known here.", $"There are: {string.Join(", ", Scale.All.Select(s => s.Name))}.", Severity.Error);
        if (order.Chord is { } chord && Arpeggio.Find(chord) is null) yield return new("chord", $"'{chord}' is no chord known here.", $"There are: {string.Join(", ", Arpeggio.All.Select(s => s.Name))}.", Severity.Error);
        if (order.Interval is not (null or >= 3 and <= 8)) yield return new("interval", $"{order.Interval} is no interval that can be asked for.", "Give 3 (thirds) to 8 (octaves).", Severity.Error);
        foreach (var problem in OfDegree(order)) yield return problem;
        if (order.Pattern is { } pattern && kind.Uses.Contains(nameof(order.Pattern)))
        {
            foreach (var problem in DegreePattern.Read(pattern).Problems) yield return problem;
        }

        if (order.Octaves is not (null or 1 or 2)) yield return new("octaves", $"{order.Octaves} octaves cannot be asked for.", "Give 1 or 2.", Severity.Error);
        if (order.Touches is { } touches && (touches.IsDefaultOrEmpty || touches.Any(t => t is < 2 or > 4))) yield return new("touches", $"{string.Join(", ", touches)} to the beat cannot be asked for.", "Give 2, 3 or 4, or several of them.", Severity.Error);
        if (order.Positions is { } p && (p.From is < 1 or > 7 || p.To is < 1 or > 7 || p.From == p.To)) yield return new("positions", $"{p.From} to {p.To} is no way of the slide.", "Give two different positions from 1 to 7.", Severity.Error);
        if (order.Count is not (null or (>= 1 and <= MostAtOnce))) yield return new("count", $"{order.Count} exercises cannot be asked for.", $"Give 1 to {MostAtOnce}.", Severity.Error);
        if (order.Tempos is { } tempos && (tempos.IsDefaultOrEmpty || tempos.Any(t => t is not (>= 20 and <= 240)) || !tempos.Zip(tempos.Skip(1)).All(t => t.First < t.Second)))
            yield return new("tempos", $"{string.Join(", ", tempos)} is no tempo ladder.", "Give quarter notes a minute from 20 to 240, each quicker than the one before.", Severity.Error);
    }

    /// <summary>That a kind which is drawn from music has none.</summary>
    public static Problem TuneMissing(ExerciseKind kind) => new("tune", $"is missing: the exercise '{kind.Name}' is drawn from music.", "Name a file of it.", Severity.Error);

    private static IEnumerable<Problem> OfDegree(ExerciseOrder order)
    {
        if (order.Degree is not { } degree) yield break;
        var scale = order.Chord is { } chord ? Arpeggio.Find(chord) : Scale.Find(order.Scale ?? "major");
        var count = scale?.Count ?? 12;
        if (degree < 1 || degree > count) yield return new("degree", $"{degree} is no note of a scale or chord of {count}.", $"Give 1 to {count}.", Severity.Error);
    }

    private static IEnumerable<string> Given(ExerciseOrder o)
    {
        (string Name, bool Given)[] all =
        [
            (nameof(o.Keys), o.Keys is not null), (nameof(o.Scale), o.Scale is not null), (nameof(o.Register), o.Register is not null),
            (nameof(o.Octaves), o.Octaves is not null), (nameof(o.Way), o.Way is not null), (nameof(o.Degree), o.Degree is not null),
            (nameof(o.Pattern), o.Pattern is not null), (nameof(o.Note), o.Note is not null), (nameof(o.Touches), o.Touches is not null),
            (nameof(o.Positions), o.Positions is not null), (nameof(o.Valve), o.Valve is not null),
            (nameof(o.Tune), o.Tune is not null), (nameof(o.Count), o.Count is not null),
            (nameof(o.Chord), o.Chord is not null), (nameof(o.Interval), o.Interval is not null),
        ];
        return all.Where(m => m.Given).Select(m => m.Name);
    }

    private static string Word(string member) => member.ToLowerInvariant();
}
