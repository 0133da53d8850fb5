using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Planning;

/// <summary>Where a part is to be moved.</summary>
/// <param name="Key">To this key, the nearest way; null to go by the interval.</param>
/// <param name="By">Used where no key is named.</param>
/// <param name="Octaves">On top of either.</param>
public sealed record KeyWish(KeyName? Key, Interval By, int Octaves)
{
    /// <summary>The part, moved.</summary>
    public Outcome<Part> Move(Part part)
    {
        var way = WayOf(part, Octaves);
        return way.Succeeded ? Transposer.Move(part, way.Value.Interval) : Outcome<Part>.Failed(way.Problems);
    }

    /// <summary>That a part moved by the user's wish has notes the player cannot reach, and what would be better; null where all can be played.</summary>
    public Problem? Unplayable(Part written, Part moved, Plan plan)
    {
        var missing = plan.Notes.Where(n => n.Setting is null).ToList();
        if (missing.Count == 0) return null;
        var shown = missing.DistinctBy(n => n.Note.Pitch.Midi).Take(3).Select(n => $"{n.Note.Pitch.ToDisplay()} (bar {n.Note.Bar})");
        return new Problem(
            moved.Name,
            $"In {moved.Bars[0].Key.ToDisplay()} {missing.Count} of {plan.Notes.Length} notes cannot be played on the {plan.Instrument.Name}: {string.Join(", ", shown)}.",
            Better(written, plan.Instrument), Severity.Error);
    }

    private Outcome<Way> WayOf(Part part, int octaves) =>
        Key is { } key ? Transposer.ToKey(part.Bars[0].Key, key, octaves) : Transposer.ByOctaves(By, octaves);

    private string Better(Part written, Instrument horn)
    {
        var fitting = Enumerable.Range(-3, 7).OrderBy(o => Math.Abs(o - Octaves)).FirstOrDefault(o => o != Octaves && Fits(written, o, horn), int.MinValue);
        return fitting == int.MinValue ? "No octave of this key fits; choose another key or instrument." : $"Octave {fitting} fits the instrument.";
    }

    private bool Fits(Part written, int octaves, Instrument horn)
    {
        var way = WayOf(written, octaves);
        var moved = way.Succeeded ? Transposer.Move(written, way.Value.Interval) : null;
        return moved is { Succeeded: true } && moved.Value.Notes.DistinctBy(n => n.Pitch.Midi).All(n => !horn.SettingsFor(n.Pitch).IsEmpty);
    }
}
