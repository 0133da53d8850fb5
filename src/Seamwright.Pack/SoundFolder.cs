using Seamwright.Core;
using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;

namespace Seamwright.Pack;

/// <summary>Play-alongs in a folder of their own, until all of them are made; it goes away with them.</summary>
/// <param name="within">The folder it lies in; null for the system's own for such things.</param>
public sealed class SoundFolder(string? within = null) : IDisposable
{
    private readonly List<string> made = [];
    private string? folder;

    /// <summary>Files, one for each exercise in order; none before <see cref="Fill"/>.</summary>
    public IReadOnlyList<string> Made => made;

    /// <summary>Makes all of them.</summary>
    /// <param name="exercises">In order, each with what it was planned with.</param>
    /// <param name="ending">Kind of sound file, with its dot.</param>
    /// <param name="sound">What is played.</param>
    /// <param name="progress">Hears the share that is done, 0 to 1; what it throws stops the work.</param>
    /// <returns>Why one could not be made; empty where all were.</returns>
    public IReadOnlyList<Problem> Fill(IReadOnlyList<(Exercise Exercise, PlanSettings Settings)> exercises, string ending, BookSound sound, Action<double>? progress = null)
    {
        folder = within is null
            ? Directory.CreateTempSubdirectory("seamwright-sound").FullName
            : Directory.CreateDirectory(Path.Combine(within, Path.GetRandomFileName())).FullName;
        foreach (var name in ExerciseFiles.Numbered(Path.Combine(folder, "x" + ending), [.. exercises.Select(e => e.Exercise)]))
        {
            var (exercise, settings) = exercises[made.Count];
            var written = ExerciseFiles.WriteSound(exercise, settings, name, sound);
            if (!written.Succeeded) return [.. written.Problems.Select(p => p with { Where = exercise.Title })];
            made.Add(name);
            progress?.Invoke((double)made.Count / exercises.Count);
        }

        return [];
    }

    public void Dispose()
    {
        if (folder is not null) Directory.Delete(folder, recursive: true);
    }
}
