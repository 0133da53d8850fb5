using System.CommandLine;
using Seamwright.Core;
using Seamwright.Core.Instruments;

namespace Seamwright.Cli.Input;

/// <summary><c>--instrument</c>: an id of the catalogue or a JSON file.</summary>
internal static class InstrumentOption
{
    public static Option<string?> Optional()
    {
        var option = new FileOption<string?>(FileUse.Read, $"An id ({string.Join(", ", Catalogue.Ids)}) or a JSON file.", "--instrument", "-i") { HelpName = "ID|FILE" };
        option.Validators.Add(r =>
        {
            if (r.Tokens.Count == 1 && !Exists(r.Tokens[0].Value))
                r.AddError($"There is no instrument '{r.Tokens[0].Value}': it is neither an id ({string.Join(", ", Catalogue.Ids)}) nor a file.");
        });
        return option;
    }

    public static Option<string?> WithDefault()
    {
        var option = Optional();
        option.DefaultValueFactory = _ => Catalogue.DefaultId;
        return option;
    }

    /// <summary>The instrument named, or everything wrong with its file.</summary>
    public static Outcome<Instrument> Load(string name) =>
        Catalogue.Find(name) is { } known ? Outcome<Instrument>.Of(known) : Files.Read(name, InstrumentFile.Read);

    private static bool Exists(string name) => Catalogue.Ids.Contains(name) || File.Exists(name);
}
