using Seamwright.Audio;
using Seamwright.Audio.Writing;
using Seamwright.Core;
using Seamwright.Core.Sound;
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
        return SoundFileWriter.IsLossy(path) ? Lossy(sound, path, used) : Filed(Leveller.Level(sound), path, used);
    }

    // Tried out elsewhere, so that nothing stands in its place but what holds its ceiling.
    private static Outcome<PlayAlongFile> Lossy(SoundFeed sound, string path, SoundTags tags)
    {
        if (SoundFileWriter.Check(path) is { Count: > 0 } problems) return Outcome<PlayAlongFile>.Failed(problems);
        string? folder = null;
        try
        {
            folder = Directory.CreateTempSubdirectory("seamwright-sound-").FullName;
            var trial = Path.Combine(folder, "trial" + Path.GetExtension(path));
            var usual = LevellingSettings.Default;
            for (var (n, leeway) = (1, Leeway); ; n++)
            {
                var levelled = Leveller.Level(sound, usual with { Ceiling = usual.Ceiling + new Decibels(-leeway), MostReduction = usual.MostReduction + new Decibels(leeway) });
                var made = Filed(levelled, trial, tags);
                if (!made.Succeeded) return Outcome<PlayAlongFile>.Failed([.. made.Problems.Select(p => p with { Where = path })]);
                var heard = Decoded(trial) ?? levelled.After;
                var over = heard.Peak is { } peak ? (peak - usual.Ceiling).Value : 0;
                if (over > 0 && n < Trials) leeway += over + More;
                else return Filed(levelled with { After = heard }, path, tags);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Outcome<PlayAlongFile>.Failed(path, $"was not written: it cannot be tried out: {e.Message.TrimEnd('.')}.", "Make room for temporary files, or name a .wav file.");
        }
        finally
        {
            if (folder is not null) Directory.Delete(folder, recursive: true);
        }
    }

    private static LoudnessReading? Decoded(string path)
    {
        if (SoundFile.Open(path) is not { Succeeded: true, Value: var decoded }) return null;
        using (decoded) return decoded.Loudness();
    }

    private static Outcome<PlayAlongFile> Filed(LevelledSound levelled, string path, SoundTags tags)
    {
        var written = SoundFileWriter.Write(path, levelled.Sound, tags);
        return written.Succeeded
            ? Outcome<PlayAlongFile>.Of(new(written.Value, levelled.After), [.. levelled.Remarks, .. written.Problems])
            : Outcome<PlayAlongFile>.Failed(written.Problems);
    }
}
