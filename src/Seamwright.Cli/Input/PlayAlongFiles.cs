using System.Text;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Cli.Input;

/// <summary>Where a play-along goes: the sound, and beside it what guides eyes through it.</summary>
/// <param name="Sound">The sound file.</param>
/// <param name="Cues">The cue sheet.</param>
/// <param name="Map">The time map.</param>
internal sealed record PlayAlongFiles(string Sound, string Cues, string Map)
{
    public static PlayAlongFiles Of(string sound) => new(sound, Path.ChangeExtension(sound, ".cues.txt"), Path.ChangeExtension(sound, ".time-map.json"));

    /// <summary>Cue sheet and time map.</summary>
    public IEnumerable<string> Guides => [Cues, Map];

    /// <summary>Cue sheet and time map, whole, and not yet in their places: they are put there when the sound is.</summary>
    /// <exception cref="CannotWriteException">With the path and the reason; neither is left.</exception>
    public IReadOnlyList<UnfinishedFile> PrepareGuides(Schedule schedule)
    {
        var cues = UnfinishedFile.Write(Cues, stream =>
        {
            using var writer = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true);
            CueSheet.Write(schedule, writer);
        });
        try
        {
            return [cues, UnfinishedFile.Write(Map, stream => TimeMapJson.Write(schedule, Path.GetFileName(Sound), stream))];
        }
        catch
        {
            cues.Dispose();
            throw;
        }
    }
}
