using System.Globalization;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The same notes with the valve and with the long arm, side by side.</summary>
internal static class ValveOrArm
{
    public static readonly ExerciseKind Kind = new(
        "valve-or-arm", "the same notes with the valve and with the long arm, side by side", [nameof(ExerciseOrder.Valve), nameof(ExerciseOrder.Note)], Make);

    // From fifth position outward a valve is a help worth comparing (common practice: it stands in for sixth and seventh).
    private const int FarSemitone = 4;
    private const double LeastSpared = 5;
    private const double PerSemitone = 2;
    private const int Widest = 5;
    private const int MostNotes = 4;
    private const double Slow = 60;
    private const double Fast = 92;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var valves = HornValves.Of(order, pupil);
        if (!valves.Succeeded) return Outcome<ExerciseSet>.Failed(valves.Problems);
        var pairs = Notes(order, pupil).Select(p => Pair(pupil, valves.Value, p)).OfType<TwoWays>().ToList();
        var drafts = pairs.GroupBy(p => p.Arm.Setting.Semitone).OrderBy(g => g.Key).Select(g => Draft(order, pupil, [.. g.Take(MostNotes)])).ToList();
        return drafts.Count == 0
            ? Outcome<ExerciseSet>.Failed("valve-or-arm", "no note in this pupil's range and reach can be played both with a valve and with the long arm.", "Choose a further position, a higher level or another note (C3 and B2 on a tenor, for instance).")
            : Drafts.FinishSeries(drafts, pupil);
    }

    private static IEnumerable<Pitch> Notes(ExerciseOrder order, Pupil pupil) => order.Note is { } note
        ? [note]
        : Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1)).Select(Pitch.FromMidi);

    /// <summary>A far note and a near one to join it to: null where the pupil has only one way for it.</summary>
    private static TwoWays? Pair(Pupil pupil, HornValves valves, Pitch pitch)
    {
        if (!pupil.Plays(pitch) || pitch.Midi > 125) return null;
        var all = pupil.SettingsFor(pitch);
        var arm = all.Where(s => s.Valves.IsEmpty && s.Partial > 1 && s.Semitone >= FarSemitone).MinBy(s => s.Travel.Value);
        var near = all.Where(s => s.Valves.IsEmpty && s.Semitone < FarSemitone).ToList();
        var valve = all.Where(s => valves.Sides.Any(v => v.Id == s.Side.Id) && s.Partial > 1).MinBy(s => (s.Valves.Length, s.Travel.Value));
        if (arm is null || near.Count > 0 || valve is null || arm.Travel.Value - valve.Travel.Value < LeastSpared) return null;
        return Home(pupil, pitch, valve, arm) is { } home ? Spelled(home, pitch, valve, arm) : null;
    }

    // The note it is joined to: close by, and where the valve spares the arm most; a semitone further counts as much as 2 cm (proposed default).
    private static PlacedNote? Home(Pupil pupil, Pitch pitch, SlideSetting valve, SlideSetting arm)
    {
        double Worth(PlacedNote n) => Distance(n.Setting, arm) - Distance(n.Setting, valve) - (PerSemitone * Math.Abs(n.Pitch.Midi - pitch.Midi));
        var near = Enumerable.Range(pitch.Midi - Widest, (2 * Widest) + 1).Where(m => m is >= 0 and <= 127 && m != pitch.Midi).Select(Pitch.FromMidi).Where(pupil.Plays)
            .Select(p => (Pitch: p, Setting: pupil.SettingsFor(p).Where(s => s.Valves.IsEmpty && s.Partial > 1 && s.Semitone < FarSemitone).MinBy(s => s.Travel.Value)))
            .Where(n => n.Setting is not null).Select(n => new PlacedNote(n.Pitch, n.Setting!)).ToList();
        return near.Where(n => Distance(n.Setting, arm) - Distance(n.Setting, valve) >= LeastSpared).MaxBy(Worth);
    }

    private static TwoWays Spelled(PlacedNote home, Pitch pitch, SlideSetting valve, SlideSetting arm)
    {
        var spelled = Spelling.Together(home.Pitch, pitch);
        return new TwoWays(home with { Pitch = spelled[0] }, new PlacedNote(spelled[1], valve), new PlacedNote(spelled[1], arm));
    }

    private static double Distance(SlideSetting a, SlideSetting b) => Math.Abs((a.Travel - b.Travel).Value);

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, List<TwoWays> notes)
    {
        var position = Ordinals.Of(notes[0].Arm.Setting.Semitone + 1);
        var draft = new ExerciseDraft
        {
            Id = $"valve-or-arm-{notes[0].Arm.Setting.Semitone + 1}{(order.Note is { } n ? $"-{Placing.Slug(n.Name)}{n.Octave}" : "")}{(order.Valve is null ? "" : $"-{HornValves.Slug(notes[0].Valve.Setting.Side)}")}",
            Kind = Kind.Name,
            Title = $"Valve or long arm{(order.Valve is null ? "" : HornValves.Words(notes[0].Valve.Setting.Side))}: {order.Note?.ToDisplay() ?? "notes"} in {position} position",
            Purpose = $"The same notes twice: once the valve, once {position} position. {Spared(notes)}",
            Practice =
            [
                $"With the valve: the thumb moves quickly and quite through, the tongue stays out{(notes.Any(n => n.Home.To(n.Valve, pupil.Instrument).WouldSmear()) ? " unless a mark asks for it" : "")}.",
                "With the long arm: start the move in time; where the mark asks for it, the tongue touches while the arm is under way.",
                "Compare the two: pitch and tone of the far note should be the same.",
            ],
            Part = Write(notes, pupil.Instrument),
            Tempos = [Slow],
        };
        return draft.Climb(pupil, order.Tempos, Slow, TempoLadder.For(pupil, Fast));
    }

    private static string Spared(List<TwoWays> notes) => string.Join(" ", notes.Select(n =>
        $"Between {n.Home.Pitch.ToDisplay()} and {n.Arm.Pitch.ToDisplay()} the arm goes {Way(n.Home, n.Valve)} cm with the {n.Valve.Setting.Side.Label} valve and {Way(n.Home, n.Arm)} cm without."));

    private static string Way(PlacedNote a, PlacedNote b) => Distance(a.Setting, b.Setting).ToString("0", CultureInfo.InvariantCulture);

    private static Part Write(List<TwoWays> notes, Instrument instrument)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var n in notes)
        {
            pen.Section($"{n.Arm.Pitch.ToDisplay()}: {n.Valve.Setting.Side.Label} valve, then long arm");
            foreach (var far in (PlacedNote[])[n.Valve, n.Arm]) pen.Slurred([n.Home, far, n.Home, far, n.Home], Beats.Quarter, (a, b) => Asked(a, b, instrument));
        }

        return pen.Finish();
    }

    private static ChangeIntent Asked(PlacedNote from, PlacedNote to, Instrument instrument) => from.To(to, instrument).WouldSmear() ? ChangeIntent.SoftTongue : ChangeIntent.NaturalSlur;

    /// <summary>A note that is far on the open horn, in both ways, and the note it is joined to.</summary>
    private sealed record TwoWays(PlacedNote Home, PlacedNote Valve, PlacedNote Arm);
}
