using System.CommandLine;
using System.CommandLine.Parsing;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Input;

/// <summary><c>--key</c>, <c>--transpose</c> and <c>--octave</c>: the part in another key.</summary>
internal sealed class KeyOptions
{
    private readonly Option<string?> key = new("--key") { Description = "Move the part the nearest way to this key: Eb, F#, Cm.", HelpName = "KEY" };
    private readonly Option<string?> interval = new("--transpose") { Description = "Move the part by an interval: M2 or m3 up, -P4 down.", HelpName = "INTERVAL" };
    private readonly Option<int?> octave = CommonOptions.Whole("--octave", "Move it by whole octaves besides, -3 to 3.", -3, 3);

    public KeyOptions()
    {
        key.Validators.Add(r => Check(r, t => KeyName.TryParse(t, out _), "is not a key such as Eb, F# or Cm"));
        interval.Validators.Add(r => Check(r, t => Interval.TryParse(t, out _), "is not an interval such as M2, m3, P5 or -P4"));
    }

    public void AddTo(Command command)
    {
        command.Add(key);
        command.Add(interval);
        command.Add(octave);
        command.Validators.Add(r =>
        {
            if (r.GetResult(key) is not null && r.GetResult(interval) is not null) r.AddError("--key and --transpose say the same thing twice: give one of them.");
        });
    }

    /// <summary>What was asked for; null where nothing was.</summary>
    public KeyWish? Wish(ParseResult result)
    {
        KeyName? name = KeyName.TryParse(result.GetValue(key), out var k) ? k : null;
        Interval? by = Interval.TryParse(result.GetValue(interval), out var i) ? i : null;
        return name is null && by is null && result.GetValue(octave) is null ? null : new KeyWish(name, by ?? Interval.Unison, result.GetValue(octave) ?? 0);
    }

    private static void Check(OptionResult result, Func<string, bool> good, string complaint)
    {
        foreach (var token in result.Tokens.Where(t => !good(t.Value))) result.AddError($"'{token.Value}' {complaint}.");
    }
}
