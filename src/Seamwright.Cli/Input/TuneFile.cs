using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;

namespace Seamwright.Cli.Input;

/// <summary>Music that exercises are drawn from.</summary>
internal static class TuneFile
{
    /// <summary>One part of a piece.</summary>
    /// <param name="path">A score of any kind that is read here.</param>
    /// <param name="part">Its id, name or number; null for the one that fits the instrument.</param>
    /// <param name="horn">Plays it.</param>
    /// <returns>The tune with what reading said, or everything that keeps it from being read.</returns>
    public static Outcome<Tune> Read(string path, string? part, Instrument horn)
    {
        var score = Files.Read(path, (stream, name) => AnyScore.Read(stream, name));
        if (!score.Succeeded) return Outcome<Tune>.Failed(score.Problems);
        var chosen = PartChooser.Choose(score.Value, horn, part, null);
        if (!chosen.Succeeded) return Outcome<Tune>.Failed([.. score.Problems, .. chosen.Problems]);
        var title = score.Value.Title.Length > 0 ? score.Value.Title : Path.GetFileNameWithoutExtension(path);
        return Outcome<Tune>.Of(new Tune(title, chosen.Value), PartChooser.About([.. score.Problems, .. chosen.Problems], score.Value, chosen.Value));
    }
}
