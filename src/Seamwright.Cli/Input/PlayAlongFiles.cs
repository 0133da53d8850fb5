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

    /// <summary>Writes cue sheet and time map.</summary>
    /// <exception cref="CannotWriteException">With the path and the reason.</exception>
    public void WriteGuides(Schedule schedule)
    {
        Files.Write(Cues, stream =>
        {
            using var writer = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true);
            CueSheet.Write(schedule, writer);
        });
        Files.Write(Map, stream => TimeMapJson.Write(schedule, Path.GetFileName(Sound), stream));
    }
}
