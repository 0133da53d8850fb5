using System.CommandLine;
using Seamwright.Cli.Input;
using Seamwright.Core.Units;

namespace Seamwright.Cli.Commands;

/// <summary>What a sheet looks like, on paper and in a film: options that both commands have.</summary>
internal static class SheetLook
{
    private const string AsWritten = "as-written";

    public static Option<string> ClefOption() => CommonOptions.Choice("--clef", "Clef", AsWritten, [AsWritten, .. ClefNames.All]);

    public static Clef? Clef(string name) => ClefNames.Find(name);

    public static Option<string> SyllableOption()
    {
        var syllable = new Option<string>("--syllable") { Description = "The soft tongue's syllable, up to 8 characters. Default du.", DefaultValueFactory = _ => "du", HelpName = "TEXT" };
        syllable.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && r.Tokens[0].Value.Length is 0 or > 8) r.AddError("A syllable has 1 to 8 characters.");
        });
        return syllable;
    }
}
