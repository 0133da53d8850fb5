using System.Collections.Immutable;
using Seamwright.Core;
using Seamwright.Core.Units;

namespace Seamwright.TestSound;

/// <summary>What the simple source sounds like, whatever it plays.</summary>
public sealed record SimpleSourceSettings
{
    public static readonly SimpleSourceSettings Default = new();

    /// <summary>8,000 to 192,000 Hz. Default 48,000.</summary>
    public SampleRate Rate { get; init; } = new(48_000);

    /// <summary>Root mean square of an ordinary note, dB against full scale. Default −20.</summary>
    public Decibels Level { get; init; } = new(-20);

    /// <summary>The room's own noise, root mean square in dB against full scale. Default −72.</summary>
    public Decibels Room { get; init; } = new(-72);

    /// <summary>Rush of air in the tone, against the tone. Default −46 dB.</summary>
    public Decibels Air { get; init; } = new(-46);

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
        Check(Vibrato.Value is >= 0 and <= 100, "vibrato", Vibrato, "0 to 100 cents");
        Check(VibratoRate.Value is >= 0.5 and <= 12, "vibratoRate", VibratoRate, "0.5 to 12 Hz");
        return problems.ToImmutable();

        void Check(bool ok, string name, object value, string range)
        {
            if (!ok) problems.Add(new Problem($"source.{name}", $"is {value}.", $"It must be {range}.", Severity.Error));
        }
    }
}
