using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>What is asked of pupils from their first year to the profession: six steps of range and tempo.</summary>
/// <remarks>Levels 1 to 3 follow a municipal music school's trombone curriculum (first level G2–B♭3 at ♩ = 88, second G2–C4 at 100,
/// third F2–E♭4); level 6 is the professional range E2–F5 with its pedals; 4 and 5 lie between (proposed defaults). Ranges are
/// those of a tenor in B♭: other horns' lie as their pedal does. A horn with two valves is there for what lies below: from the third level on
/// its lowest notes are D2, C2 and B♭1, and from the fourth on its highest are F4, G4 and B♭4 (common practice): a contrabass, a fourth lower, ends at F4.</remarks>
public static class Levels
{
    public const int Lowest = 1;
    public const int Highest = 6;

    private static readonly ImmutableArray<(string Low, string High, double Tempo)> Table =
        [("G2", "Bb3", 88), ("G2", "C4", 100), ("F2", "Eb4", 108), ("E2", "G4", 116), ("E2", "Bb4", 126), ("E1", "F5", 144)];

    private static readonly ImmutableArray<string> LowWithTwoValves = ["G2", "F2", "D2", "C2", "Bb1", "E1"];

    private static readonly ImmutableArray<string> HighWithTwoValves = ["Bb3", "C4", "Eb4", "F4", "G4", "Bb4"];

    /// <summary>Quickest quarter notes a minute an exercise of a level goes to.</summary>
    public static double TempoOf(int level) => Table[level - 1].Tempo;

    /// <summary>A level's range on an instrument, cut to what the instrument has.</summary>
    /// <param name="instrument">Any.</param>
    /// <param name="level">1 to 6.</param>
    public static (Pitch Low, Pitch High) RangeOn(Instrument instrument, int level)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(level, Lowest);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(level, Highest);
        var (first, last) = instrument.Range();
        var away = instrument.Pedal.Midi - Pitch.Parse("Bb1").Midi;
        var (lowest, highest) = instrument.Sides.Any(s => s.Valves.Length > 1) ? (LowWithTwoValves[level - 1], HighWithTwoValves[level - 1]) : (Table[level - 1].Low, Table[level - 1].High);
        var (low, high) = (Pitch.Parse(lowest).Midi + away, Pitch.Parse(highest).Midi + away);
        return (Pitch.FromMidi(Math.Max(low, first.Midi)), Pitch.FromMidi(Math.Min(high, last.Midi)));
    }

    /// <summary>The least level whose range holds notes between two pitches; 6 where none does.</summary>
    public static int OfRange(Instrument instrument, Pitch low, Pitch high)
    {
        for (var level = Lowest; level < Highest; level++)
        {
            var (first, last) = RangeOn(instrument, level);
            if (low.Midi >= first.Midi && high.Midi <= last.Midi) return level;
        }

        return Highest;
    }
}
