using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Units;

namespace Seamwright.Core.Calibration;

/// <summary>Recognises lip slurs in first position and chromatic scales among the notes of a take.</summary>
internal static class ExerciseFinder
{
    private const double NearPartial = 60;
    private const int HighestPartial = 10;
    private const int FurthestStep = 3;
    private const int ShortestSlur = 3;
    private const int ShortestScale = 5;

    /// <summary>Without a sheet: runs of neighbouring partials, and runs of semitones one way.</summary>
    /// <param name="notes">In order.</param>
    /// <param name="instrument">At about the player's tuning.</param>
    public static List<Recognised> Unguided(List<CalibrationNote> notes, Instrument instrument)
    {
        var slurred = Runs(notes, ShortestSlur, (a, b) => IsSlur(a, b, instrument));
        var stepped = Runs(notes, ShortestScale, IsStep, turns: false);
        return [.. Enumerable.Range(0, notes.Count).Where(i => slurred[i] || stepped[i])
            .Select(i => slurred[i] ? Slur(notes[i], PartialOf(notes[i].Hz, instrument)!.Value) : Scale(notes[i], instrument))];
    }

    /// <summary>By the sheet: runs that the plan plays in first position on the open horn by lip slur, and runs of semitones one way.</summary>
    public static List<Recognised> Guided(List<CalibrationNote> notes, Plan plan)
    {
        SlideSetting? Asked(CalibrationNote n) => plan.Notes[n.Index].Setting;
        bool IsLip(CalibrationNote a, CalibrationNote b) =>
            Asked(a) is { Semitone: 0, Side.Valves.IsEmpty: true } p && Asked(b) is { Semitone: 0, Side.Valves.IsEmpty: true } q && p.Partial != q.Partial;
        var slurred = Runs(notes, ShortestSlur, IsLip);
        var stepped = Runs(notes, ShortestScale, IsStep, turns: false);
        return [.. Enumerable.Range(0, notes.Count).Where(i => Asked(notes[i]) is not null && (slurred[i] || stepped[i]))
            .Select(i => slurred[i] ? Slur(notes[i], Asked(notes[i])!.Partial) : Scale(notes[i], Asked(notes[i])))];
    }

    /// <summary>How many semitones, up to two, the lip slurs lie above first position where they are none on this instrument; null where they
    /// do not.</summary>
    /// <param name="notes">In order.</param>
    /// <param name="instrument">At about the player's tuning, but for whole semitones.</param>
    public static int? Shift(List<CalibrationNote> notes, Instrument instrument)
    {
        if (Enough.Slurs(Unguided(notes, instrument))) return null;
        return new[] { -1, 1, -2, 2 }.Cast<int?>().FirstOrDefault(k => Enough.Slurs(Unguided(notes, instrument.TunedTo(instrument.A4 + new Cents(100 * k!.Value)))));
    }

    private static Recognised Slur(CalibrationNote note, int partial) => new(note, ExerciseKind.LipSlur, partial, 0);

    // The chart's setting: lowest position on the open horn.
    private static Recognised Scale(CalibrationNote note, Instrument instrument) => Scale(note, instrument.UsualSetting(note.Pitch));

    private static Recognised Scale(CalibrationNote note, SlideSetting? setting) => setting is { Side.Valves.IsEmpty: true }
        ? new(note, ExerciseKind.Scale, setting.Partial, setting.Semitone)
        : new(note, ExerciseKind.Scale, null, null);

    private static bool IsStep(CalibrationNote a, CalibrationNote b) => Math.Abs(b.Pitch.Midi - a.Pitch.Midi) == 1;

    private static bool IsSlur(CalibrationNote a, CalibrationNote b, Instrument instrument) =>
        PartialOf(a.Hz, instrument) is { } p && PartialOf(b.Hz, instrument) is { } q && p != q && Math.Abs(p - q) <= FurthestStep;

    private static int? PartialOf(Hertz hz, Instrument instrument)
    {
        var fundamental = instrument.Open.Fundamental;
        var n = (int)Math.Round(hz.Value / fundamental.Value);
        return n is >= 2 and <= HighestPartial && Math.Abs(hz.Above(n * fundamental).Value) <= NearPartial ? n : null;
    }

    // Which notes lie in a run of at least so many joined pairs in a row, none left out between them; without turns every run goes one way.
    private static bool[] Runs(List<CalibrationNote> notes, int shortest, Func<CalibrationNote, CalibrationNote, bool> joined, bool turns = true)
    {
        var inside = new bool[notes.Count];
        for (var i = 0; i < notes.Count;)
        {
            var start = i;
            while (i + 1 < notes.Count && notes[i + 1].Index == notes[i].Index + 1 && joined(notes[i], notes[i + 1]) && (turns || i == start || Way(i) == Way(i - 1))) i++;
            if (i - start + 1 >= shortest) inside.AsSpan(start, i - start + 1).Fill(true);
            i = Math.Max(start + 1, turns ? i + 1 : i);
        }

        return inside;

        int Way(int k) => Math.Sign(notes[k + 1].Pitch.Midi - notes[k].Pitch.Midi);
    }
}
