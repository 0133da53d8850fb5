using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound;

/// <summary>What the voice sounds like, whatever it plays.</summary>
public sealed record VoiceSettings
{
    public static readonly VoiceSettings Default = new();

    /// <summary>8,000 to 192,000 Hz. Default 48,000.</summary>
    public SampleRate Rate { get; init; } = new(48_000);

    /// <summary>Root mean square of an ordinary note, dB against full scale. Default −20.</summary>
    public Decibels Level { get; init; } = new(-20);

    /// <summary>The room's own noise, root mean square in dB against full scale. Default −72.</summary>
    public Decibels Room { get; init; } = new(-72);

    /// <summary>Rush of air in the tone, against the tone. Default −42 dB.</summary>
    public Decibels Air { get; init; } = new(-42);

    /// <summary>How unsteady the pitch is while a note is held, root mean square. Default 1.5 cents.</summary>
    public Cents Wander { get; init; } = new(1.5);

    /// <summary>How uneven the level is while a note is held, root mean square. Default 0.3 dB.</summary>
    public Decibels Unevenness { get; init; } = new(0.3);

    /// <summary>Vibrato to each side. Default 0; brass players use 10 to 30 cents.</summary>
    public Cents Vibrato { get; init; }

    /// <summary>Vibrato rate. Default 5.5 Hz; 4 to 8 Hz is usual on brass.</summary>
    public Hertz VibratoRate { get; init; } = new(5.5);

    /// <summary>The same seed gives the same samples.</summary>
    public uint Seed { get; init; } = 1;

    /// <summary>Every setting out of its range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(Rate.Value is >= 8_000 and <= 192_000, "rate", Rate, "8,000 to 192,000 Hz");
        Check(Level.Value is >= -60 and <= -12, "level", Level, "−60 to −12 dB, so that peaks keep below full scale");
        Check(Room.Value is >= -200 and <= -30, "room", Room, "−200 to −30 dB");
        Check(Air.Value is >= -200 and <= -10, "air", Air, "−200 to −10 dB");
        Check(Wander.Value is >= 0 and <= 10, "wander", Wander, "0 to 10 cents");
        Check(Unevenness.Value is >= 0 and <= 3, "unevenness", Unevenness, "0 to 3 dB");
        Check(Vibrato.Value is >= 0 and <= 40, "vibrato", Vibrato, "0 to 40 cents");
        Check(VibratoRate.Value is >= 0.5 and <= 12, "vibratoRate", VibratoRate, "0.5 to 12 Hz");
        return problems.ToImmutable();

        void Check(bool ok, string name, object value, string range)
        {
            if (!ok) problems.Add(new Problem($"voice.{name}", $"is {value}.", $"It must be {range}.", Severity.Error));
        }
    }
}
