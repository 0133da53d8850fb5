using Seamwright.Core.Listening;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>A note as a calibration sees it.</summary>
/// <param name="Index">Place in the take.</param>
/// <param name="Pitch">Its name.</param>
/// <param name="Hz">Heard.</param>
/// <param name="Onset">When it begins.</param>
/// <param name="Length">How long it lasts.</param>
internal readonly record struct CalibrationNote(int Index, Pitch Pitch, Hertz Hz, Seconds Onset, Seconds Length)
{
    /// <summary>Every note whose pitch was measured, in order.</summary>
    public static IEnumerable<CalibrationNote> Of(Take take, Plan plan) => take.Notes
        .Where(n => n is { Found: true, IsDamaged: false } && n.Cents is { } c && double.IsFinite(c.Value) && n.Onset is not null && n.Offset is not null)
        .Select(n => new CalibrationNote(n.Index, n.Pitch, n.Pitch.Frequency(plan.Instrument.A4) + n.Cents!.Value, n.Onset!.Value, n.Offset!.Value - n.Onset!.Value));
}

/// <summary>A note with what it was taken for.</summary>
/// <param name="Note">The note.</param>
/// <param name="Kind">The exercise.</param>
/// <param name="Partial">Its partial; null where the chart's setting is not on the open horn.</param>
/// <param name="Semitone">Semitones the slide is out on the open horn by the chart; 0 closed.</param>
internal readonly record struct Recognised(CalibrationNote Note, ExerciseKind Kind, int? Partial, int? Semitone);
