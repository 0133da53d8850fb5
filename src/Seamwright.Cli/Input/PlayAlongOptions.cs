using System.CommandLine;
using System.CommandLine.Parsing;
using Seamwright.Core.Exercises;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Sound.Rooms;
using Seamwright.Pack;

namespace Seamwright.Cli.Input;

/// <summary>What a play-along is made of.</summary>
/// <param name="usualTurns">Whose turn comes where nothing is said.</param>
/// <param name="usualClick">When the click is heard where nothing is said.</param>
internal sealed class PlayAlongOptions(string usualTurns, string usualClick)
{
    private readonly Option<string> turns = CommonOptions.Choice("--turns", "Who plays, phrase by phrase or all through", usualTurns, [.. BookSound.TurnWords]);
    private readonly Option<int?> phraseBars = CommonOptions.Whole("--phrase-bars", "Whole bars in a phrase. Default: phrases end at rests, breaths and slurs.", 1, 64);
    private readonly Option<string> click = CommonOptions.Choice("--click", "When the click is heard", usualClick, [.. BookSound.ClickWords]);
    private readonly Option<int?> countIn = CommonOptions.Whole("--count-in", "Bars counted before each round, 0 to 8. Default 1, or 2 where a bar has one or two beats; none with --click none.", 0, 8);
    private readonly Option<int?> subdivide = CommonOptions.Whole("--subdivide", "Clicks in a beat, 1 to 4. Default 1.", 1, 4);
    private readonly Option<string> drone = CommonOptions.Choice("--drone", "A held note of the key, all through", "none", [.. BookSound.DroneWords]);
    private readonly Option<string> fifth = CommonOptions.Choice("--fifth", "How the drone's fifth is tuned", "just", "just", "equal");
    private readonly Option<string> room = CommonOptions.Choice("--room", "The room in which example, drone and chords are heard: 5 x 4 m with 0.4 s of reverberation, or 25 x 16 m with 1.8 s", "none", ["none", .. Room.All.Select(r => r.Name)]);
    private readonly Option<bool> noChords = new("--no-chords") { Description = "Leave out the accompaniment, where the part has chord symbols." };
    private readonly Option<bool> split = new("--split") { Description = "Click in the right ear, everything else in the left." };

    public void AddTo(Command command)
    {
        foreach (var option in (Option[])[turns, phraseBars, click, countIn, subdivide, drone, fifth, room, noChords, split]) command.Add(option);
        command.Validators.Add(r =>
        {
            // Values that were not given are not there yet.
            var (click, drone) = (r.GetValue(this.click) ?? usualClick, r.GetValue(this.drone) ?? "none");
            if (r.GetResult(fifth) is { Implicit: false } && drone is "none" or "tonic") r.AddError("--fifth tunes the fifth of a drone: add --drone fifth or --drone both.");
            if (click == "count-in" && CountsNothing(r)) r.AddError("--click count-in and --count-in 0 exclude each other: no bar is counted. Give --click none, or bars to count.");
            else if (!HasExample(r) && r.GetValue(noChords) && drone == "none" && click == "none")
                r.AddError("Nothing would be heard: --turns you leaves out the example, and click, drone and chords are left out too. Ask for one of them.");
        });
    }

    private bool CountsNothing(CommandResult result) => result.GetResult(countIn) is { Tokens: [{ Value: "0" }] };

    /// <summary>Whether an example is played.</summary>
    public bool HasExample(CommandResult result) => (result.GetValue(turns) ?? usualTurns) != "you";

    public PlayAlongSettings Settings(ParseResult result) => PlayAlongSettings.Default with
    {
        Turns = PlayAlongWords.Turns(result.GetValue(turns)!),
        PhraseBars = result.GetValue(phraseBars),
        Click = PlayAlongWords.Click(result.GetValue(click)!),
        CountIn = result.GetValue(countIn),
        Subdivision = result.GetValue(subdivide) ?? 1,
        Drone = PlayAlongWords.Drone(result.GetValue(drone)!),
        Fifth = result.GetValue(fifth) == "equal" ? FifthTuning.Equal : FifthTuning.Just,
        Room = Room.All.FirstOrDefault(r => r.Name == result.GetValue(room)),
        Chords = !result.GetValue(noChords),
        Split = result.GetValue(split),
    };
}
