using Seamwright.Cli.Input;
using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;

namespace Seamwright.Cli.Pack;

/// <summary>Play-alongs in a folder of the system's, until all of them are made; it goes away with them.</summary>
internal sealed class SoundFolder : IDisposable
{
    private readonly List<string> made = [];
    private string? folder;

    /// <summary>Files, one for each exercise in order; none before <see cref="Fill"/>.</summary>
    public IReadOnlyList<string> Made => made;

    /// <summary>Makes all of them.</summary>
    /// <returns>Why one could not be made; empty where all were.</returns>
    public IReadOnlyList<Problem> Fill(Terminal terminal, IReadOnlyList<Exercise> exercises, PlanSettings settings, string ending, BookSound sound)
    {
        folder = Directory.CreateTempSubdirectory("seamwright-sound").FullName;
        using var progress = new ProgressLine(terminal, "Sounding");
        foreach (var name in ExerciseFiles.Numbered(Path.Combine(folder, "x" + ending), exercises))
        {
            var written = ExerciseFiles.WriteSound(exercises[made.Count], settings, name, sound);
            if (!written.Succeeded) return [.. written.Problems.Select(p => p with { Where = exercises[made.Count].Title })];
            made.Add(name);
            progress.Show((double)made.Count / exercises.Count);
        }

        return [];
    }

    public void Dispose()
    {
        if (folder is not null) Directory.Delete(folder, recursive: true);
    }
}
