using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The key that is taken where none is ordered.</summary>
/// <remarks>The horn's own for two years, then from its second neighbour a step a year round the circle of fifths through the flats: B-flat, B-flat, A-flat, D-flat, G-flat, B on
/// a tenor (common practice: grades of bands and examinations add keys that way).</remarks>
internal static class LevelKeys
{
    /// <summary>By its place on the line of fifths.</summary>
    public static PitchName Of(Pupil pupil) => PitchName.OnFifths(pupil.Instrument.Pedal.Name.Fifths - (pupil.Level < 3 ? 0 : pupil.Level - 1));
}
