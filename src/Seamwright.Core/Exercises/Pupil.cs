using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Whom an exercise is made for: an instrument, an arm, a range and a way of tonguing.</summary>
public sealed record Pupil
{
    public required Instrument Instrument { get; init; }

    /// <summary>By whom and how exercises are planned; locks do not count.</summary>
    public PlanSettings Settings { get; init; } = new();

    /// <summary>Lowest note asked for.</summary>
    public required Pitch Lowest { get; init; }

    /// <summary>Highest note asked for.</summary>
    public required Pitch Highest { get; init; }

    /// <summary>1 to 6: the level whose range this is, see <see cref="Levels.OfRange"/>.</summary>
    public int Level => Levels.OfRange(Instrument, Lowest, Highest);

    /// <summary>One clef throughout; null chooses by ledger lines.</summary>
    public Clef? Clef { get; init; }

    /// <summary>How the pupil reads notes: what is printed and told of an exercise calls them so.</summary>
    public NoteNaming Naming => NoteNaming.Under(Clef);

    /// <summary>A pupil of a level on an instrument.</summary>
    /// <param name="instrument">Any.</param>
    /// <param name="settings">Null for a grown player's.</param>
    /// <param name="level">1 to 6; see <see cref="Levels"/>.</param>
    public static Pupil Of(Instrument instrument, PlanSettings? settings = null, int level = Levels.Highest)
    {
        var (low, high) = Levels.RangeOn(instrument, level);
        return new Pupil { Instrument = instrument, Settings = (settings ?? new()) with { Locks = [] }, Lowest = low, Highest = high };
    }

    /// <summary>Whether the pupil can play a note at all: in the range, and with a setting the arm reaches.</summary>
    public bool Plays(Pitch pitch) => pitch >= Lowest && pitch <= Highest && Reaches(pitch);

    /// <summary>Settings the pupil can use for a pitch: those the arm reaches, bans left out.</summary>
    public ImmutableArray<SlideSetting> SettingsFor(Pitch pitch) =>
        [.. Candidates.Reachable(Instrument, Settings.Player, pitch).Where(s => !Settings.Bans.Any(b => b.Matches(s)))];

    private bool Reaches(Pitch pitch) => !SettingsFor(pitch).IsEmpty;
}
