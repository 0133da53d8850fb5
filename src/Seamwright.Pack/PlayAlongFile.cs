using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Pack;

/// <summary>A play-along as one sound file: made, brought to its loudness, and named.</summary>
/// <param name="Written">What stands in the file.</param>
/// <param name="Loudness">As measured on its own samples.</param>
public sealed record PlayAlongFile(WrittenSound Written, LoudnessReading Loudness)
{
    /// <summary>Writes it whole, or nothing.</summary>
    /// <param name="schedule">What is heard when.</param>
    /// <param name="path">A sound file of one of <see cref="SoundFileWriter.Endings"/>; an older one is replaced.</param>
    /// <param name="tags">What it says of itself; null: as <see cref="PlayAlongTags"/> has it.</param>
    /// <returns>With what was remarked of loudness and file, or why nothing was written.</returns>
    public static Outcome<PlayAlongFile> Write(Schedule schedule, string path, SoundTags? tags = null)
    {
        var levelled = Leveller.Level(PlayAlongMaker.Sound(schedule));
        var written = SoundFileWriter.Write(path, levelled.Sound, tags ?? PlayAlongTags.Of(schedule));
        return written.Succeeded
            ? Outcome<PlayAlongFile>.Of(new(written.Value, levelled.After), [.. levelled.Remarks, .. written.Problems])
            : Outcome<PlayAlongFile>.Failed(written.Problems);
    }
}
