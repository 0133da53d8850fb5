using Seamwright.Audio;
using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Sound.Loudness;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;

namespace Seamwright.Pack;

/// <summary>A play-along as one sound file: made, brought to its loudness, and named.</summary>
/// <param name="Written">What stands in the file.</param>
/// <param name="Loudness">Of what a player makes of the file: a coder that leaves something out moves peaks.</param>
public sealed record PlayAlongFile(WrittenSound Written, LoudnessReading Loudness)
{
    // dB that a lossy coder's peaks have below the ceiling to move in; how often more is given where that was too little, and how much more.
    private const double Leeway = 0.5, More = 0.1;

    private const int Trials = 3;

    /// <summary>Writes it whole, or nothing.</summary>
    /// <param name="schedule">What is heard when.</param>
    /// <param name="path">A sound file of one of <see cref="SoundFileWriter.Endings"/>; an older one is replaced.</param>
    /// <param name="tags">What it says of itself; null: as <see cref="PlayAlongTags"/> has it.</param>
    /// <returns>With what was remarked of loudness and file, or why nothing was written.</returns>
    public static Outcome<PlayAlongFile> Write(Schedule schedule, string path, SoundTags? tags = null)
    {
        var sound = PlayAlongMaker.Sound(schedule);
        var used = tags ?? PlayAlongTags.Of(schedule);
        if (!SoundFileWriter.IsLossy(path)) return Filed(Leveller.Level(sound), path, used);
        var usual = LevellingSettings.Default;
        var leeway = Leeway;
        for (var trial = 1; ; trial++)
        {
            var made = Filed(Leveller.Level(sound, usual with { Ceiling = usual.Ceiling + new Decibels(-leeway), MostReduction = usual.MostReduction + new Decibels(leeway) }), path, used);
            if (!made.Succeeded || SoundFile.Open(path) is not { Succeeded: true, Value: var decoded }) return made;
            using (decoded)
            {
                var heard = decoded.Loudness();
                var over = heard.Peak is { } peak ? (peak - usual.Ceiling).Value : 0;
                if (over <= 0 || trial == Trials) return Outcome<PlayAlongFile>.Of(made.Value with { Loudness = heard }, made.Problems);
                leeway += over + More;
            }
        }
    }

    private static Outcome<PlayAlongFile> Filed(LevelledSound levelled, string path, SoundTags tags)
    {
        var written = SoundFileWriter.Write(path, levelled.Sound, tags);
        return written.Succeeded
            ? Outcome<PlayAlongFile>.Of(new(written.Value, levelled.After), [.. levelled.Remarks, .. written.Problems])
            : Outcome<PlayAlongFile>.Failed(written.Problems);
    }
}
