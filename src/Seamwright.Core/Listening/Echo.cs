namespace Seamwright.Core.Listening;

/// <summary>Walls that send the sound back, each return apart from the sound itself.</summary>
/// <param name="Delay">After how many seconds the strongest return comes.</param>
/// <param name="Last">After how many seconds the latest one comes.</param>
/// <param name="Strongest">Amplitude of the strongest return against the sound itself, 0 to 0.9.</param>
/// <param name="Strength">Amplitude of all returns together, their powers added, 0 to 0.9.</param>
internal readonly record struct Echo(double Delay, double Last, double Strongest, double Strength)
{
    // What comes later than this reaches into no change that it began in.
    private const double Reaches = 0.06;

    /// <summary>How many seconds of a change's figures an echo leaves in doubt: the old note sounds on, so much weaker than the new one.</summary>
    public double Time => Strength * Math.Min(Last, Reaches);

    /// <summary>What the returns leave open of the level.</summary>
    public Meeting Meeting => new(Strength);
}

/// <summary>The room as far as it limits what can be told of a change.</summary>
/// <param name="NoiseDb">Level of its own noise, dB.</param>
/// <param name="Decay">How it answers when a note ends; null where that is unknown.</param>
/// <param name="Echo">Single returns; null where none is heard.</param>
internal sealed record RoomAnswer(double NoiseDb, Decay? Decay, Echo? Echo)
{
    /// <summary>Where the microphone or its amplifier was driven too far.</summary>
    public Overload Overload { get; init; } = new(FinePitch.Rate);

    /// <summary>The mains' hum that was taken out; null where there was none.</summary>
    public Hum? Hum { get; init; }

    /// <summary>A sound of steady pitch that is not the player; null where there is no sign of one.</summary>
    public OtherSound? Other { get; init; }

    /// <summary>Reads all of it from a recording.</summary>
    /// <param name="sound">The recording.</param>
    /// <param name="notes">All notes heard, in any order.</param>
    public static RoomAnswer Of(HeardSound sound, IReadOnlyList<Stretch> notes)
    {
        // Silence that stands for what the file has lost is neither a room nor another player.
        var whole = notes.Where(n => !sound.IsDamaged(n)).ToList();
        var noise = RoomReader.NoiseOf(sound.Track, () => ValleyNoise.Of(sound.Samples, sound.Track, whole));
        var inside = TailReader.Of(sound.Samples, sound.Track, whole);
        var decay = RoomReader.Joined(inside, RoomReader.DecayOf(sound.Track, notes, noise));
        return new(noise, decay, EchoFinder.Of(sound.Samples, sound.Track.Hz))
        {
            Overload = sound.Overload,
            Hum = sound.Hum,
            Other = OtherSoundFinder.Of(sound.Samples, sound.Track, whole, decay is { Matters: true }),
        };
    }
}
