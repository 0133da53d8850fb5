using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The key that is taken where none is ordered.</summary>
/// <remarks>The horn's own for two years, then a flat more each year: B-flat, B-flat, E-flat, A-flat, D-flat, G-flat on a tenor (common practice: grades of bands and examinations
/// add keys round the circle of fifths, flats first).</remarks>
internal static class LevelKeys
{
    /// <summary>By its place on the line of fifths.</summary>
    public static PitchName Of(Pupil pupil) => PitchName.OnFifths(pupil.Instrument.Pedal.Name.Fifths - Math.Max(0, pupil.Level - 2));
}
