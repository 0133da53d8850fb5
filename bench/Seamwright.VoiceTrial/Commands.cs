using System.CommandLine;
using Seamwright.VoiceTrial.Trials;

namespace Seamwright.VoiceTrial;

/// <summary>The command line.</summary>
internal static class Commands
{
    public static RootCommand Root() => new("A trial of a lumped lip-reed voice.") { Pitch() };

    private static Command Pitch()
    {
        var breath = new Option<double>("--breath") { Description = "Mouth pressure against an ordinary note's.", DefaultValueFactory = _ => 1 };
        var pitch = new Command("pitch", "Every chromatic note from E1 to F5: in tune, how soon, on the right partial?") { breath };
        pitch.SetAction(r => PitchTrial.Run(r.GetValue(breath), Console.Out));
        return pitch;
    }
}
