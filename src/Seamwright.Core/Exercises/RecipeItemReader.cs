using System.Collections.Immutable;
using System.Globalization;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Reads one line of a recipe: a kind, and members of the order for it.</summary>
internal static class RecipeItemReader
{
    private const string All = "all";
    private static readonly string[] Registers = ["low", "middle", "high", All];

    /// <summary>Reads it, noting every mistake.</summary>
    public static RecipeItem Read(JsonFields fields, int mostText)
    {
        var kind = Kind(fields);
        var chapter = fields.Text("chapter") ?? "";
        if (chapter.Length > mostText) fields.Wrong(fields.Under("chapter"), $"has {chapter.Length} characters.", $"At most {mostText} have room.");
        var order = Order(fields, kind?.Name ?? "");
        var registers = RegistersOf(fields);
        var tune = TuneOf(fields, kind);
        fields.RejectUnknown();
        ImmutableArray<ExerciseOrder> orders = registers.Count == 0 ? [order] : [.. registers.Select(r => order with { Register = r })];
        if (kind is not null)
        {
            // What could not be read is told already.
            var found = OrderCheck.Of(orders[0], kind).Select(p => p with { Where = fields.Under(p.Where == "register" ? "registers" : p.Where) });
            fields.Problems.AddRange(found.Where(p => !fields.Problems.Exists(t => t.Where == p.Where)).ToList());
        }

        return new RecipeItem(fields.Path, chapter, orders) { Tune = tune };
    }

    // The music itself is read where files are.
    private static RecipeTune? TuneOf(JsonFields fields, ExerciseKind? kind)
    {
        var (file, part) = (fields.Text("tune"), fields.Text("part"));
        if (kind is null) return null;
        var uses = kind.Uses.Contains(nameof(ExerciseOrder.Tune));
        if (!uses && file is not null) fields.Wrong(fields.Under("tune"), $"means nothing to the exercise '{kind.Name}'.", "Leave it out.");
        if (kind.NeedsTune && file is null) fields.Wrong(fields.Under("tune"), OrderCheck.TuneMissing(kind).What, "Name a file of it.");
        if (file is null && part is not null) fields.Wrong(fields.Under("part"), "names a part of no tune.", "Name the tune, or leave it out.");
        return uses && file is not null ? new RecipeTune(file, part) : null;
    }

    private static ExerciseKind? Kind(JsonFields fields)
    {
        if (fields.Text("kind", required: true) is not { } name) return null;
        if (ExerciseMaker.Find(name) is { } kind) return kind;
        fields.Wrong(fields.Under("kind"), $"is \"{name}\".", $"There are: {string.Join(", ", ExerciseMaker.Kinds.Select(k => k.Name))}.");
        return null;
    }

    private static ExerciseOrder Order(JsonFields fields, string kind)
    {
        var scale = fields.Choice("scale", [.. Scale.All.Select(s => s.Name)]);
        var chord = fields.Choice("chord", [.. Arpeggio.All.Select(a => a.Name)]);
        return new ExerciseOrder
        {
            Kind = kind,
            Keys = KeysOf(fields, scale, chord),
            Scale = scale,
            Octaves = fields.Whole("octaves", 1, 2),
            Way = fields.Choice("way", "up", "down", "both") is { } way ? Enum.Parse<ScaleWay>(way, ignoreCase: true) : null,
            Degree = fields.Whole("degree", 1, 12),
            Pattern = fields.Text("pattern"),
            Note = NoteOf(fields),
            Touches = fields.Has("touches") ? [.. fields.Numbers("touches").Select(t => (int)t)] : null,
            Positions = PositionsOf(fields),
            Valve = fields.Text("valve"),
            Count = fields.Whole("count", 1, 24),
            Chord = chord,
            Interval = fields.Whole("interval", 3, 8),
            Tempos = fields.Has("tempos") ? [.. fields.Numbers("tempos")] : null,
        };
    }

    private static ImmutableArray<KeyName>? KeysOf(JsonFields fields, string? scale, string? chord)
    {
        var names = fields.TextOrTexts("keys");
        if (!fields.Has("keys")) return null;
        if (names is [All]) return TwelveKeys.Named(scale, chord);
        var keys = new List<KeyName>();
        foreach (var name in names)
        {
            if (KeyName.TryParse(name, out var key)) keys.Add(key);
            else fields.Wrong(fields.Under("keys"), $"names \"{name}\".", "Name keys such as \"Bb\" or \"F#\", or give \"all\".");
        }

        if (names.Count == 0) fields.Wrong(fields.Under("keys"), "names no key.", "Name keys such as \"Bb\", give \"all\", or leave it out.");
        return [.. keys.Distinct()];
    }

    private static List<Register> RegistersOf(JsonFields fields)
    {
        var registers = new List<Register>();
        foreach (var name in fields.TextOrTexts("registers"))
        {
            if (Registers.Contains(name)) registers.Add(Enum.Parse<Register>(name, ignoreCase: true));
            else fields.Wrong(fields.Under("registers"), $"names \"{name}\".", $"Name one or more of: {string.Join(", ", Registers)}.");
        }

        return registers.Contains(Register.All) ? [Register.All] : [.. registers.Distinct()];
    }

    private static Pitch? NoteOf(JsonFields fields)
    {
        if (fields.Text("note") is not { } text) return null;
        if (Pitch.TryParse(text, out var pitch)) return pitch;
        fields.Wrong(fields.Under("note"), $"is \"{text}\".", "A note such as \"Bb3\" or \"F#2\" is needed.");
        return null;
    }

    private static (int From, int To)? PositionsOf(JsonFields fields)
    {
        if (fields.Text("positions") is not { } text) return null;
        var parts = text.Split('-');
        if (parts.Length == 2 && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var from) && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var to)) return (from, to);
        fields.Wrong(fields.Under("positions"), $"is \"{text}\".", "Give two positions, for instance \"1-4\".");
        return null;
    }
}
