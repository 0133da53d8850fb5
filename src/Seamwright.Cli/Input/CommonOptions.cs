using System.CommandLine;
using System.Globalization;

namespace Seamwright.Cli.Input;

/// <summary>Options that several commands share.</summary>
internal static class CommonOptions
{
    public static Option<bool> Json() => new("--json") { Description = "Write JSON instead of text." };

    public static Option<string?> OutputFile(string what) => new FileOption<string?>(FileUse.Written, what, "--output", "-o");

    /// <summary>Which pass at the line, where a recording holds several.</summary>
    public static Option<int?> Attempt()
    {
        var attempt = new Option<int?>("--attempt") { Description = "Which attempt at the line to tell, from 1, where the recording holds several. Default: the fullest, of equals the last.", HelpName = "N" };
        attempt.Validators.Add(r =>
        {
            if (r.Tokens is [{ Value: var text }] && int.TryParse(text, out var n) && n < 1) r.AddError($"--attempt {n}: attempts are counted from 1.");
        });
        return attempt;
    }

    public static Option<string?> OutputFolder(string what) => new FileOption<string?>(FileUse.Folder, what, "--output", "-o");

    /// <summary>A number that must lie in a range; outside it the command line is wrong.</summary>
    public static Option<double?> Number(string name, string description, double low, double high)
    {
        return new Option<double?>(name)
        {
            Description = description,
            HelpName = "N",
            CustomParser = result =>
            {
                var text = result.Tokens[0].Value;
                if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high) return value;
                result.AddError($"{name} is '{text}'; it must be a number from {low} to {high}, with a point for decimals.");
                return null;
            },
        };
    }

    /// <summary>A whole number that must lie in a range; outside it the command line is wrong.</summary>
    public static Option<int?> Whole(string name, string description, int low, int high)
    {
        return new Option<int?>(name)
        {
            Description = description,
            HelpName = "N",
            CustomParser = result =>
            {
                var text = result.Tokens[0].Value;
                if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high) return value;
                result.AddError($"{name} is '{text}'; it must be a whole number from {low} to {high}.");
                return null;
            },
        };
    }

    public static Option<string> Choice(string name, string description, string fallback, params string[] values)
    {
        var option = new Option<string>(name) { Description = $"{description}: {string.Join(", ", values)}.", HelpName = "CHOICE", DefaultValueFactory = _ => fallback };
        option.CompletionSources.Add(values);
        option.Validators.Add(r =>
        {
            foreach (var token in r.Tokens.Where(t => !values.Contains(t.Value)))
                r.AddError($"{name} is '{token.Value}'; it may be {string.Join(", ", values[..^1])} or {values[^1]}.");
        });
        return option;
    }
}
