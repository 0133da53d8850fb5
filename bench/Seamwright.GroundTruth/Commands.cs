using System.CommandLine;
using Seamwright.GroundTruth.Making;
using Seamwright.GroundTruth.Measuring;
using Seamwright.GroundTruth.Peers;

namespace Seamwright.GroundTruth;

/// <summary>The command line.</summary>
internal static class Commands
{
    public static RootCommand Root() => new("Ground truth for Seamwright's ears.") { Make(), Measure(), WorstChanges(), Frames(), Check(), Peers(), InCompany(), Cracks() };

    private static Command Make()
    {
        var folder = new Option<string>("--output", "-o") { Description = "Folder for the takes.", Required = true, HelpName = "DIR" };
        var seed = new Option<int>("--seed") { Description = "The same seed gives the same takes.", DefaultValueFactory = _ => 1 };
        var quick = new Option<bool>("--quick") { Description = "About 160 s of sound in place of 15 minutes." };
        var recordings = new Option<string>("--recordings") { Description = "Folder of real notes.", DefaultValueFactory = _ => Path.Combine("..", "shared", "sounds"), HelpName = "DIR" };
        var make = new Command("make", "Make takes whose truth is known exactly.") { folder, seed, quick, recordings };
        make.SetAction(r => new TakeSet(r.GetValue(folder)!, r.GetValue(seed), r.GetValue(quick), r.GetValue(recordings)!, Console.WriteLine).Make());
        return make;
    }

    private static Command Measure()
    {
        var folders = new Argument<string[]>("DIR") { Description = "Folders that make has filled; several, of different seeds, are counted as one.", Arity = ArgumentArity.OneOrMore };
        var json = new Option<string?>("--json") { Description = "Also write every figure to a file.", HelpName = "FILE" };
        var measure = new Command("measure", "Hear every take and print the figures beside their goals.") { folders, json };
        measure.SetAction(r =>
        {
            var takes = Measurement.Of(r.GetValue(folders)!);
            Measurement.Print(takes, Console.Out);
            if (r.GetValue(json) is { } path) Measurement.WriteJson(takes, path);
        });
        return measure;
    }

    private static Command WorstChanges()
    {
        var folder = Folder();
        var condition = new Option<string?>("--condition") { Description = "Only takes of this condition, for instance clean.", HelpName = "NAME" };
        var count = new Option<int>("--count") { Description = "How many of each quantity.", DefaultValueFactory = _ => 15 };
        var worst = new Command("worst", "List the changes that are heard worst.") { folder, condition, count };
        worst.SetAction(r => Worst.Print(
            Measurement.Of(r.GetValue(folder)!, t => r.GetValue(condition) is not { } c || t.Condition == c), r.GetValue(count), Console.Out));
        return worst;
    }

    private static Command Frames()
    {
        var folder = Folder();
        var condition = new Option<string?>("--condition") { Description = "Only takes of this condition, for instance clean.", HelpName = "NAME" };
        var frames = new Command("frames", "Write every frame whose pitch is more than 25 cents off, as comma-separated lines.") { folder, condition };
        frames.SetAction(r => WrongFrames.Write(r.GetValue(folder)!, t => r.GetValue(condition) is not { } c || t.Condition == c, Console.Out));
        return frames;
    }

    private static Command Peers()
    {
        var folder = Folder();
        var json = new Option<string?>("--json") { Description = "Also write the rows to a file.", HelpName = "FILE" };
        var peers = new Command("peers", "Run other pitch trackers on the same takes beside ours.") { folder, json };
        peers.SetAction(r => PeerTable.Print(r.GetValue(folder)!, Console.Out, r.GetValue(json)));
        return peers;
    }

    private static Command Check()
    {
        var folder = Folder();
        var check = new Command("check", "Compare the stated truth with pitch and level read off the samples by other means.") { folder };
        check.SetAction(r => TruthCheck.Print(r.GetValue(folder)!, Console.Out) ? 0 : 1);
        return check;
    }

    private static Command InCompany()
    {
        var folder = Folder();
        var output = new Option<string>("--output", "-o") { Description = "Folder for the takes in company.", Required = true, HelpName = "DIR" };
        var list = new Option<bool>("--list") { Description = "Also list what is told wrongly." };
        var company = new Command("company", "Play a play-along or a drone beside every clean take and count what is told wrongly.") { folder, output, list };
        company.SetAction(r => Company.Print(r.GetValue(folder)!, r.GetValue(output)!, r.GetValue(list), Console.Out));
        return company;
    }

    private static Command Cracks()
    {
        var seed = new Option<int>("--seed") { Description = "The same seed gives the same slurs.", DefaultValueFactory = _ => 1 };
        var count = new Option<int>("--count") { Description = "Slurs on each of three horns.", DefaultValueFactory = _ => 20 };
        var source = new Option<string?>("--source") { Description = "Only sources whose name begins so, for instance soundfont-fluid.", HelpName = "NAME" };
        var recordings = new Option<string>("--recordings") { Description = "Folder of real notes.", DefaultValueFactory = _ => Path.Combine("..", "shared", "sounds"), HelpName = "DIR" };
        var list = new Option<bool>("--list") { Description = "Also list what is missed, and what is told of clean slurs." };
        var cracks = new Command("cracks", "Wrong partials on slurs from every source but our own voice, and the same slurs clean.") { seed, count, source, recordings, list };
        cracks.SetAction(r => CrackTable.Print(r.GetValue(seed), r.GetValue(count),
            new TakeSet("", r.GetValue(seed), false, r.GetValue(recordings)!, Console.WriteLine).Voices().Where(v => v.Name.StartsWith(r.GetValue(source) ?? "", StringComparison.Ordinal)), r.GetValue(list), Console.Out));
        return cracks;
    }

    private static Argument<string> Folder() => new("DIR") { Description = "A folder that make has filled." };
}
