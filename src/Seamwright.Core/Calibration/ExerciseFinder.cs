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

    /// <summary>By the sheet: what the plan plays in first position on the open horn by lip slur, and what it plays in semitones.</summary>
    public static List<Recognised> Guided(List<CalibrationNote> notes, Plan plan)
    {
        bool Closed(int n) => plan.Notes[n].Setting is { Semitone: 0, Side.Valves.IsEmpty: true };
        bool Beside(int n) => (n > 0 && IsLip(n - 1, n)) || (n + 1 < plan.Notes.Length && IsLip(n, n + 1));
        bool IsLip(int a, int b) => Closed(a) && Closed(b) && plan.Notes[a].Setting!.Partial != plan.Notes[b].Setting!.Partial;
        var found = new List<Recognised>();
        foreach (var note in notes)
        {
            if (plan.Notes[note.Index].Setting is not { } setting) continue;
            if (Beside(note.Index)) found.Add(Slur(note, setting.Partial));
            else found.Add(setting.Side.Valves.IsEmpty ? new(note, ExerciseKind.Scale, setting.Partial, setting.Semitone) : new(note, ExerciseKind.Scale, null, null));
        }

        return found;
    }

    private static Recognised Slur(CalibrationNote note, int partial) => new(note, ExerciseKind.LipSlur, partial, 0);

    // The chart's setting: lowest position on the open horn.
    private static Recognised Scale(CalibrationNote note, Instrument instrument)
    {
        var usual = instrument.UsualSetting(note.Pitch);
        return usual is { Side.Valves.IsEmpty: true }
            ? new(note, ExerciseKind.Scale, usual.Partial, usual.Semitone)
            : new(note, ExerciseKind.Scale, null, null);
    }

    private static bool IsStep(CalibrationNote a, CalibrationNote b) => Math.Abs(b.Pitch.Midi - a.Pitch.Midi) == 1;

    private static bool IsSlur(CalibrationNote a, CalibrationNote b, Instrument instrument) =>
        PartialOf(a.Hz, instrument) is { } p && PartialOf(b.Hz, instrument) is { } q && p != q && Math.Abs(p - q) <= FurthestStep;

    private static int? PartialOf(Hertz hz, Instrument instrument)
    {
        var fundamental = instrument.Open.Fundamental;
        var n = (int)Math.Round(hz.Value / fundamental.Value);
        return n is >= 2 and <= HighestPartial && Math.Abs(hz.Above(n * fundamental).Value) <= NearPartial ? n : null;
    }

    // Which notes lie in a run of at least so many joined pairs in a row; without turns every run goes one way.
    private static bool[] Runs(List<CalibrationNote> notes, int shortest, Func<CalibrationNote, CalibrationNote, bool> joined, bool turns = true)
    {
        var inside = new bool[notes.Count];
        for (var i = 0; i < notes.Count;)
        {
            var start = i;
            while (i + 1 < notes.Count && joined(notes[i], notes[i + 1]) && (turns || i == start || Way(i) == Way(i - 1))) i++;
            if (i - start + 1 >= shortest) inside.AsSpan(start, i - start + 1).Fill(true);
            i = Math.Max(start + 1, turns ? i + 1 : i);
        }

        return inside;

        int Way(int k) => Math.Sign(notes[k + 1].Pitch.Midi - notes[k].Pitch.Midi);
    }
}
