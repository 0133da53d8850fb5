using Seamwright.Core.Exercises;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Pack;

/// <summary>The words for parts of a play-along, which command line and recipe share.</summary>
public static class PlayAlongWords
{
    public static Turns Turns(string word) => word switch { "example" => Core.Sound.PlayAlong.Turns.ExampleOnly, "you" => Core.Sound.PlayAlong.Turns.YouOnly, _ => Core.Sound.PlayAlong.Turns.ExampleThenYou };

    public static ClickUse Click(string word) => word switch { "count-in" => ClickUse.CountInOnly, "none" => ClickUse.None, _ => ClickUse.Throughout };

    public static DroneNotes Drone(string word) => word switch { "tonic" => DroneNotes.Tonic, "fifth" => DroneNotes.Fifth, "both" => DroneNotes.Both, _ => DroneNotes.None };

    /// <summary>What a recipe asks for.</summary>
    public static PlayAlongSettings Settings(BookSound sound) => PlayAlongSettings.Default with
    {
        Turns = Turns(sound.Turns),
        Click = Click(sound.Click),
        Drone = Drone(sound.Drone),
        CountIn = sound.CountIn ?? (sound.Click == "none" ? 0 : 1),
    };
}
