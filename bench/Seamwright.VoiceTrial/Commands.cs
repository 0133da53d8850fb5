using System.CommandLine;
using Seamwright.VoiceTrial.Trials;

namespace Seamwright.VoiceTrial;

/// <summary>The command line.</summary>
internal static class Commands
{
    public static RootCommand Root() => new("A trial of a lumped lip-reed voice.") { Pitch(), Changes(), Dynamics(), Speed(), Render(), Check() };

    private static Command Pitch()
    {
        var breath = new Option<double>("--breath") { Description = "Mouth pressure against an ordinary note's.", DefaultValueFactory = _ => 1 };
        var pitch = new Command("pitch", "Every chromatic note from E1 to F5: in tune, how soon, on the right partial?") { breath };
        pitch.SetAction(r => PitchTrial.Run(r.GetValue(breath), Console.Out));
        return pitch;
    }

    private static Command Changes() => Plain("changes", "Slides, lip slurs, contrary motion, a touch of the tongue: asked against heard.", ChangesTrial.Run);

    private static Command Dynamics() => Plain("dynamics", "Level and brightness at five breaths.", DynamicsTrial.Run);

    private static Command Speed() => Plain("speed", "Times real time, bytes allocated.", SpeedTrial.Run);

    private static Command Render()
    {
        var file = new Option<FileInfo>("--output", "-o") { Description = "The WAV file to write.", Required = true, HelpName = "FILE" };
        var render = new Command("render", "An arpeggio, a scale with touches of the tongue, and a swell.") { file };
        render.SetAction(r => RenderTrial.Run(r.GetValue(file)!, Console.Out));
        return render;
    }

    private static Command Check()
    {
        var check = new Command("check", "The trial's own tests: each part against its closed form.");
        check.SetAction(_ => SelfCheck.Run(Console.Out) ? 0 : 1);
        return check;
    }

    private static Command Plain(string name, string says, Action<TextWriter> run)
    {
        var command = new Command(name, says);
        command.SetAction(_ => run(Console.Out));
        return command;
    }
}
