using Seamwright.Core.Instruments;
using Seamwright.Core.Listening;
using Seamwright.Core.Listening.Free;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Calibration;

/// <summary>Notes as if they had been heard, without any sound.</summary>
internal static class CalibrationNotes
{
    public static FreeTake Scattered(Instrument horn, string notes, int seed, double scatter)
    {
        var plan = CalibrationTape.PlanOf(horn, notes);
        var random = new Random(seed);
        return new(plan, new Take
        {
            Notes = [.. plan.Notes.Select(n => new HeardNote
            {
                Index = n.Note.Index,
                Pitch = n.Note.Pitch,
                Found = true,
                Onset = n.Note.StartTime,
                Offset = n.Note.EndTime,
                Cents = new(Sounds(horn, n) + (scatter * Normal(random))),
            })],
            Changes = [.. plan.Changes.Select(c => new HeardChange { Index = c.Index, Found = false })],
            Track = new Track { Start = Seconds.Zero, Hop = new(0.005), Frames = [] },
            TempoRatio = null,
        });
    }

    private static double Sounds(Instrument horn, Core.Planning.PlannedNote n) => n.Setting!.Semitone > 0
        ? 0
        : horn.Sounding(horn.Open, n.Setting.Partial, new(0)).Above(n.Note.Pitch.Frequency(horn.A4)).Value;

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
