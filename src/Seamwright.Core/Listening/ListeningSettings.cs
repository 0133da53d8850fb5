using System.Collections.Immutable;
using Seamwright.Core.Units;

namespace Seamwright.Core.Listening;

/// <summary>How a recording is listened to.</summary>
public sealed record ListeningSettings
{
    public static readonly ListeningSettings Default = new();

    /// <summary>Lowest pitch looked for, 30 to 200 Hz. Default 30 (below the bass trombone's lowest pedal).</summary>
    public Hertz Lowest { get; init; } = new(30);

    /// <summary>Highest pitch looked for, 300 to 1200 Hz. Default 1200.</summary>
    public Hertz Highest { get; init; } = new(1200);

    /// <summary>The ear's temporal window, 5 to 50 ms; two periods where those are longer. Default 13 ms (equivalent rectangular
    /// duration at 300 Hz, Plack and Moore, J. Acoust. Soc. Am. 1990).</summary>
    public Seconds EarWindow { get; init; } = Seconds.FromMilliseconds(13);

    /// <summary>Sound this far below the loudest moment counts as silence, 20 to 90 dB. Default 45 dB, proposed.</summary>
    public Decibels SilenceBelowPeak { get; init; } = new(45);

    /// <summary>A note may lie this far from its pitch and still be the note, 30 to 100 cents. Default 70, proposed.</summary>
    public Cents NoteTolerance { get; init; } = new(70);

    /// <summary>A note begins and ends where it rises or falls through this level below its own, 6 to 30 dB. Default 15 dB
    /// (onsets are perceived 15–20 dB below the maximum, Rasch 1979).</summary>
    public Decibels OnsetBelowNote { get; init; } = new(15);

    /// <summary>Whether the pitch's way through each change is followed moment by moment for the track, which takes a sixth of the time of long
    /// takes. What is measured of notes and changes does not need it. Default true; false where nobody looks at the track.</summary>
    public bool FollowWays { get; init; } = true;

    /// <summary>Every setting out of its range, with the range.</summary>
    public ImmutableArray<Problem> Validate()
    {
        var problems = ImmutableArray.CreateBuilder<Problem>();
        Check(nameof(Lowest), Lowest.Value, 30, 200, "Hz");
        Check(nameof(Highest), Highest.Value, 300, 1200, "Hz");
        Check(nameof(EarWindow), EarWindow.Value, 0.005, 0.05, "s");
        Check(nameof(SilenceBelowPeak), SilenceBelowPeak.Value, 20, 90, "dB");
        Check(nameof(NoteTolerance), NoteTolerance.Value, 30, 100, "cents");
        Check(nameof(OnsetBelowNote), OnsetBelowNote.Value, 6, 30, "dB");
        return problems.ToImmutable();

        void Check(string name, double value, double least, double most, string unit)
        {
            if (!(value >= least && value <= most))
                problems.Add(new Problem($"listening.{name}", $"is {value} {unit}.", $"It must be {least} to {most} {unit}.", Severity.Error));
        }
    }
}
