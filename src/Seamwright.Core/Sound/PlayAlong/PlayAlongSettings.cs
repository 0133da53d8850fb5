using System.Collections.Immutable;
using Seamwright.Core.Sound.Rooms;
using Seamwright.Core.Units;

namespace Seamwright.Core.Sound.PlayAlong;

/// <summary>Whose turn there is.</summary>
public enum Turns
{
    /// <summary>Each phrase is played, then as much silence follows for the pupil.</summary>
    ExampleThenYou,

    /// <summary>The whole part is played.</summary>
    ExampleOnly,

    /// <summary>Nobody plays but the pupil: click, drone and chords alone.</summary>
    YouOnly,
}

public enum ClickUse
{
    Throughout, CountInOnly, None,
}

public enum DroneNotes
{
    None, Tonic, Fifth, Both,
}

public enum FifthTuning
{
    /// <summary>3:2, 702.0 cents: without beats.</summary>
    Just,

    /// <summary>700 cents.</summary>
    Equal,
}

/// <summary>What a play-along is made of.</summary>
public sealed record PlayAlongSettings
{
    public static readonly PlayAlongSettings Default = new();

    /// <summary>8,000 to 192,000 Hz. Default 48,000.</summary>
    public SampleRate Rate { get; init; } = new(48_000);

    public Turns Turns { get; init; } = Turns.ExampleThenYou;

    /// <summary>Whole bars in a phrase, 1 to 64; null to find phrases by <see cref="Scores.Phrases"/>.</summary>
    public int? PhraseBars { get; init; }

    public ClickUse Click { get; init; } = ClickUse.Throughout;

    /// <summary>Bars counted before each round, 0 to 8; null for one, or two where a bar has fewer than three beats, and none where no click
    /// would be heard.</summary>
    public int? CountIn { get; init; }

    /// <summary>Clicks in a beat, 1 to 4. Default 1. A beat of three eighths is divided into its eighths whether 2 or 3 is asked.</summary>
    public int Subdivision { get; init; } = 1;

    public DroneNotes Drone { get; init; } = DroneNotes.None;

    public FifthTuning Fifth { get; init; } = FifthTuning.Just;

    /// <summary>Whether chord symbols are accompanied, where the part has them. Default yes.</summary>
    public bool Chords { get; init; } = true;

    /// <summary>Click in the right ear and everything else in the left. Default no: mono.</summary>
    public bool Split { get; init; }

    /// <summary>The room in which everything but the click is heard. Default none: null.</summary>
    public Room? Room { get; init; }

    /// <summary>The click's downbeat, peak, against full scale before levelling. Default −10 dB (proposed: it is heard over a trombone at
    /// −20 dB root mean square without piercing). Range −40 to −3.</summary>
    public Decibels ClickLevel { get; init; } = new(-10);

    /// <summary>The drone, root mean square. Default −32 dB: 12 below the trombone (proposed). Range −60 to −12.</summary>
    public Decibels DroneLevel { get; init; } = new(-32);

    /// <summary>A chord as it is struck, peak of all its tones. Default −14 dB: as it dies away, well beneath the trombone (proposed). Range −60 to −6.</summary>
    public Decibels ChordLevel { get; init; } = new(-14);

    /// <summary>Whether nothing at all would be heard.</summary>
    /// <param name="withoutSymbols">Whether the part has no chord symbols.</param>
    public bool IsSilent(bool withoutSymbols) =>
        Turns == Turns.YouOnly && (Click == ClickUse.None || (Click == ClickUse.CountInOnly && CountIn == 0)) && Drone == DroneNotes.None && (!Chords || withoutSymbols);

    /// <summary>Every setting out of its range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(Rate.Value is >= 8_000 and <= 192_000, "rate", Rate, "8,000 to 192,000 Hz");
        Check(PhraseBars is null or (>= 1 and <= 64), "phrase", PhraseBars, "1 to 64 bars");
        Check(CountIn is null or (>= 0 and <= 8), "count-in", CountIn, "0 to 8 bars");
        Check(Subdivision is >= 1 and <= 4, "subdivision", Subdivision, "1 to 4");
        Check(ClickLevel.Value is >= -40 and <= -3, "click", ClickLevel, "−40 to −3 dB");
        Check(DroneLevel.Value is >= -60 and <= -12, "drone", DroneLevel, "−60 to −12 dB");
        Check(ChordLevel.Value is >= -60 and <= -6, "chords", ChordLevel, "−60 to −6 dB");
        return problems.ToImmutable();

        void Check(bool ok, string name, object? value, string range)
        {
            if (!ok) problems.Add(new Problem($"play-along, {name}", $"is {value}.", $"It must be {range}.", Severity.Error));
        }
    }
}
