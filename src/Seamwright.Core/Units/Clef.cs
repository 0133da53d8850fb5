namespace Seamwright.Core.Units;

/// <summary>How staff lines are read.</summary>
public enum Clef
{
    Bass, Tenor, Alto, Treble,

    /// <summary>Treble clef read a major ninth above its sound, as brass-band tenor parts are.</summary>
    TrebleBb,

    /// <summary>Bass clef sounding an octave lower.</summary>
    BassOctaveDown,

    /// <summary>Treble clef sounding an octave lower.</summary>
    TrebleOctaveDown,
}
