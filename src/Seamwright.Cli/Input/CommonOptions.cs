using System.CommandLine;

namespace Seamwright.Cli.Input;

/// <summary>Options that several commands share.</summary>
internal static class CommonOptions
{
    public static Option<bool> Json() => new("--json") { Description = "Write JSON instead of text." };

    public static Option<string?> OutputFile(string what) => new("--output", "-o") { Description = what, HelpName = "FILE" };

    /// <summary>A number that must lie in a range; outside it the command line is wrong.</summary>
    public static Option<double?> Number(string name, string description, double low, double high)
    {
        var option = new Option<double?>(name) { Description = description, HelpName = "N" };
        option.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && double.TryParse(r.Tokens[0].Value, out var value) && !(value >= low && value <= high))
                r.AddError($"{name} is {value}; it must lie between {low} and {high}.");
        });
        return option;
    }

    public static Option<string> Choice(string name, string description, string fallback, params string[] values)
    {
        var option = new Option<string>(name) { Description = $"{description}: {string.Join(", ", values)}. Default {fallback}.", DefaultValueFactory = _ => fallback };
        option.AcceptOnlyFromAmong(values);
        return option;
    }
}
