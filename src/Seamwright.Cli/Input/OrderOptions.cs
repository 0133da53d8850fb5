using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Input;

/// <summary>What is asked of an exercise: each kind uses some of these.</summary>
internal sealed class OrderOptions
{
    private const string AllKeys = "all";
    private readonly Option<string[]> keys = new("--key") { Description = "A key such as Bb or F# (repeatable), or all: the twelve.", HelpName = "KEY" };
    private readonly Option<string?> scale = new("--scale") { Description = $"A scale: {string.Join(", ", Scale.All.Select(s => s.Name))}.", HelpName = "SCALE" };
    private readonly Option<string?> register = new("--register") { Description = "Where in the range: low, middle, high, or all that fit.", HelpName = "CHOICE" };
    private readonly Option<int?> octaves = CommonOptions.Whole("--octaves", "Octaves of a scale, 1 or 2.", 1, 2);
    private readonly Option<string?> way = new("--way") { Description = "Which way a scale goes: up, down or both.", HelpName = "CHOICE" };
    private readonly Option<int?> degree = CommonOptions.Whole("--degree", "Note of the scale or chord it begins on, 1 to 12.", 1, 12);
    private readonly Option<string?> pattern = new("--pattern") { Description = "Scale degrees that are repeated from each step, for instance \"1 2 3 1\".", HelpName = "DEGREES" };
    private readonly Option<Pitch?> note = Parsed<Pitch?>("--note", "NOTE", "A note at concert pitch, for instance Bb3.", t => Pitch.TryParse(t, out var p) ? p : null, "is not a note from C-1 to G9 such as Bb3 or F#2");
    private readonly Option<int[]?> touches = Parsed("--touches", "N,N", "Touches to the beat: 2, 3, 4 or several, for instance 2,3.", t => Numbers(t, x => int.TryParse(x, NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : (int?)null), "is not a list of numbers such as 2,3,4");
    private readonly Option<(int From, int To)?> positions = Parsed("--positions", "N-N", "Slide positions to go between, for instance 1-4.", Ends, "is not two positions such as 1-4");
    private readonly Option<string?> valve = new("--valve") { Description = "A valve by its letter, for instance F.", HelpName = "VALVE" };
    private readonly Option<double[]?> tempos = Parsed("--tempos", "N,N", "Quarter notes a minute, slow to fast, for instance 60,72,84.", t => Numbers(t, x => double.TryParse(x, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var n) ? n : (double?)null), "is not a list of tempos such as 60,72,84");

    private readonly FileOption<string?> tune = new(FileUse.Read, $"Music to draw exercises from: {AnyScore.Kinds}.", "--tune");
    private readonly Option<string?> part = new("--part", "-p") { Description = "Which part of the tune: its id, name or number. Default: the one that fits the instrument.", HelpName = "PART" };
    private readonly Option<int?> count = CommonOptions.Whole("--count", "How many exercises at most are drawn from a tune, 1 to 24.", 1, 24);

    private readonly Option<string?> chord = new("--chord") { Description = $"An arpeggio's chord: {string.Join(", ", Arpeggio.All.Select(a => a.Name))}.", HelpName = "CHORD" };
    private readonly Option<int?> interval = CommonOptions.Whole("--interval", "Size of an interval within a scale, 3 (thirds) to 8 (octaves).", 3, 8);

    public OrderOptions()
    {
        keys.Validators.Add(r => PlayerOptions.Each(r, t => t == AllKeys || KeyName.TryParse(t, out _), "is not a key such as Eb or F#, nor 'all'"));
        register.AcceptOnlyFromAmong("low", "middle", "high", "all");
        way.AcceptOnlyFromAmong("up", "down", "both");
        chord.AcceptOnlyFromAmong([.. Arpeggio.All.Select(a => a.Name)]);
        scale.AcceptOnlyFromAmong([.. Scale.All.Select(s => s.Name)]);
    }

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[keys, scale, register, octaves, way, degree, pattern, note, touches, positions, chord, interval, valve, tempos, tune, part, count]) command.Add(option);
    }

    /// <summary>The order of a command line without errors; or why its tune cannot be used.</summary>
    /// <param name="result">The parsed command line.</param>
    /// <param name="kind">Name of a kind.</param>
    /// <param name="horn">A part of the tune is chosen for.</param>
    public Outcome<ExerciseOrder> Order(ParseResult result, string kind, Core.Instruments.Instrument horn)
    {
        var order = Order(result, kind);
        if (result.GetValue(tune) is not { } file) return Outcome<ExerciseOrder>.Of(order);
        var read = TuneFile.Read(file, result.GetValue(part), horn);
        return read.Succeeded ? Outcome<ExerciseOrder>.Of(order with { Tune = read.Value }, read.Problems) : Outcome<ExerciseOrder>.Failed(read.Problems);
    }

    private ExerciseOrder Order(ParseResult result, string kind) => new()
    {
        Kind = kind,
        Count = result.GetValue(count),
        Chord = result.GetValue(chord),
        Interval = result.GetValue(interval),
        Keys = KeysOf(result.GetValue(keys) ?? [], result.GetValue(scale), result.GetValue(chord)),
        Scale = result.GetValue(scale),
        Register = result.GetValue(register) is { } r ? Enum.Parse<Register>(r, ignoreCase: true) : null,
        Octaves = result.GetValue(octaves),
        Way = result.GetValue(way) is { } w ? Enum.Parse<ScaleWay>(w, ignoreCase: true) : null,
        Degree = result.GetValue(degree),
        Pattern = result.GetValue(pattern),
        Note = result.GetValue(note),
        Touches = result.GetValue(touches) is { Length: > 0 } t ? [.. t] : null,
        Positions = result.GetValue(positions),
        Valve = result.GetValue(valve),
        Tempos = result.GetValue(tempos) is { Length: > 0 } q ? [.. q] : null,
    };

    private static ImmutableArray<KeyName>? KeysOf(string[] names, string? scale, string? chord)
    {
        if (names.Length == 0) return null;
        List<KeyName> all = names.Contains(AllKeys) ? [.. TwelveKeys.Named(scale, chord)] : [];
        return [.. all, .. names.Where(n => n != AllKeys).Select(n => KeyName.TryParse(n, out var k) ? k : default).Where(k => !all.Contains(k)).Distinct()];
    }

    private static Option<T?> Parsed<T>(string name, string help, string description, Func<string, T?> read, string complaint) => new(name)
    {
        Description = description,
        HelpName = help,
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            var value = read(text);
            if (value is null) result.AddError($"{name}: '{text}' {complaint}.");
            return value;
        },
    };

    private static T[]? Numbers<T>(string text, Func<string, T?> read)
        where T : struct
    {
        var all = text.Split(',', StringSplitOptions.TrimEntries).Select(read).ToList();
        return all.TrueForAll(n => n is not null) ? [.. all.Select(n => n!.Value)] : null;
    }

    private static (int From, int To)? Ends(string text)
    {
        var parts = text.Split('-');
        return parts.Length == 2 && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var from) && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var to) ? (from, to) : null;
    }
}
