using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>A pitch in a setting.</summary>
/// <param name="Pitch">Concert pitch.</param>
/// <param name="Setting">One that plays it.</param>
internal sealed record PlacedNote(Pitch Pitch, SlideSetting Setting)
{
    /// <summary>The setting as notes carry it.</summary>
    public string Prescribed => SettingPattern.Of(Setting).ToString();

    /// <summary>What the instrument does on the way to another note.</summary>
    /// <param name="next">That note.</param>
    /// <param name="instrument">Whose settings both have.</param>
    public Separation To(PlacedNote next, Instrument instrument) => Separations.Between(instrument, Pitch, Setting, next.Pitch, next.Setting);

    /// <summary>The note of a partial with the slide at a semitone of a tube's own; null where the pupil cannot play it so.</summary>
    /// <param name="pupil">For range, reach and bans.</param>
    /// <param name="side">The tube.</param>
    /// <param name="partial">1 or more.</param>
    /// <param name="semitone">Semitones from closed on that tube, 0 for closed.</param>
    public static PlacedNote? At(Pupil pupil, Side side, int partial, int semitone)
    {
        var closed = (int)Math.Round(69 + (12 * Math.Log2(side.Fundamental.Value / pupil.Instrument.A4.Value)));
        var midi = closed + Tube.NearestSemitone(partial) - semitone;
        if (midi is < 0 or > 127) return null;
        var pitch = Pitch.FromMidi(midi);
        if (!pupil.Plays(pitch)) return null;
        var setting = pupil.SettingsFor(pitch).FirstOrDefault(s => s.Side.Id == side.Id && s.Partial == partial && s.Semitone == semitone);
        return setting is null ? null : new PlacedNote(pitch, setting);
    }
}
