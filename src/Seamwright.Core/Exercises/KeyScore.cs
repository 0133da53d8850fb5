using Seamwright.Core.Planning;
using Seamwright.Core.Scores;

namespace Seamwright.Core.Exercises;

/// <summary>How a tune lies on an instrument in one key; smaller is easier in every part.</summary>
/// <remarks>Total = 2·smears + arm/20 + 2·far + register + accidentals/7 + 4·hurried + away/24, each figure as below. Proposed defaults: the weights make a
/// change that smears cost as much as a far position, half as much as one the arm cannot make, and a signature least of all. Common
/// practice agrees: teachers start in flat keys, whose scales lie in the near positions.</remarks>
public sealed record KeyScore
{
    /// <summary>Changes that would smear without a tongue, of <see cref="Joined"/>.</summary>
    public required int Smears { get; init; }

    /// <summary>Changes that no rest or breath parts.</summary>
    public required int Joined { get; init; }

    /// <summary>Way of the slide in metres a minute of music.</summary>
    public required double ArmPerMinute { get; init; }

    /// <summary>Notes in sixth position or beyond, counted in open-horn positions, of <see cref="Notes"/>.</summary>
    public required int Far { get; init; }

    public required int Notes { get; init; }

    /// <summary>0 to 1: how far the notes lie outside the middle half of the pupil's range, on average; 1 is all at its ends.</summary>
    public required double Register { get; init; }

    /// <summary>Sharps or flats in the signature, the bars' average.</summary>
    public required double Accidentals { get; init; }

    /// <summary>Changes for which the arm would have to be faster than it can.</summary>
    public required int Hurried { get; init; }

    /// <summary>Semitones from the key as written, up or down; an octave counts as much as smears in a quarter of the changes.</summary>
    public required int Away { get; init; }

    /// <summary>0 and more.</summary>
    public double Total => (2 * Share(Smears, Joined)) + (ArmPerMinute / 20) + (2 * Share(Far, Notes)) + Register + (Accidentals / 7) + (4 * Share(Hurried, Joined)) + (Away / 24.0);

    /// <summary>Of a planned part.</summary>
    /// <param name="part">As written.</param>
    /// <param name="plan">Its plan, every note with a setting.</param>
    /// <param name="pupil">Whose range it is.</param>
    /// <param name="semitones">From the key as written.</param>
    public static KeyScore Of(Part part, Plan plan, Pupil pupil, int semitones)
    {
        var joined = plan.Changes.Where(c => c.Kind != ChangeKind.Breath).ToList();
        var minutes = (plan.Notes[^1].Note.EndTime - plan.Notes[0].Note.StartTime).Value / 60;
        return new KeyScore
        {
            Smears = joined.Count(c => c.SmearIfUntongued.Value > 0),
            Joined = joined.Count,
            ArmPerMinute = plan.Changes.Sum(c => Math.Abs(c.Travel?.Value ?? 0)) / 100 / minutes,
            Far = plan.Notes.Count(n => n.Setting?.Position >= 5.5),
            Notes = plan.Notes.Length,
            Register = plan.Notes.Average(n => Outside(n.Note.Pitch.Midi, pupil)),
            Accidentals = part.Bars.Average(b => Math.Abs(b.Key.Fifths)),
            Hurried = joined.Count(c => !c.Plausible),
            Away = Math.Abs(semitones),
        };
    }

    private static double Outside(int midi, Pupil pupil)
    {
        var quarter = Math.Max(1, (pupil.Highest.Midi - pupil.Lowest.Midi) / 4.0);
        var centre = (pupil.Highest.Midi + pupil.Lowest.Midi) / 2.0;
        return Math.Clamp((Math.Abs(midi - centre) - quarter) / quarter, 0, 1);
    }

    private static double Share(int some, int all) => all == 0 ? 0 : (double)some / all;
}
