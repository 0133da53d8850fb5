using System.Collections.Immutable;
using Seamwright.Core.Instruments;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>What a player's own horn is read from: lip slurs with the slide closed, and a slow chromatic scale by ear.</summary>
internal static class HornAndEar
{
    public static readonly ExerciseKind Kind = new(
        "horn-and-ear", "lip slurs in 1st position and a slow chromatic scale: a recording of it tells how your own horn is tuned", [], Make);

    private static readonly ImmutableArray<int> Low = [2, 3, 4, 5, 6], High = [4, 5, 6, 8];

    // Fewer semitones in a row leave too much of the slide unheard.
    private const int ShortestScale = 8;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var slurs = new[] { Low, High }.Select(partials => partials.Select(n => PlacedNote.At(pupil, pupil.Instrument.Open, n, 0)).OfType<PlacedNote>().ToList())
            .Where(notes => notes.Count >= 3).ToList();
        var scale = LongestScale(pupil);
        if (slurs.Count == 0 || scale.Count < ShortestScale)
            return Outcome<ExerciseSet>.Failed("horn-and-ear", "this pupil's range and reach hold too few notes to set a horn by.", "It takes three partials in 1st position and eight semitones in a row: choose a higher level.");
        var draft = new ExerciseDraft
        {
            Id = "horn-and-ear",
            Kind = Kind.Name,
            Title = "Your own horn: slurs and a scale",
            Purpose = "A recording of this tells how your horn is tuned, how far each partial lies from where it should be, and where your slide is.",
            Practice =
            [
                "Lip slurs: the slide quite closed, every note held; do not correct anything with the lips.",
                "Scale: by ear, as in tune as you can, each note by itself, in the usual positions.",
                "Record all of it in one go, without a play-along.",
            ],
            Part = Write(slurs, scale),
            Tempos = [60],
        };
        return Drafts.Finish([draft with { Tempos = order.Tempos ?? [60] }], pupil);
    }

    private static Part Write(List<List<PlacedNote>> slurs, List<PlacedNote> scale)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        pen.Section("Slide closed");
        foreach (var notes in slurs)
        {
            var round = SlurCells.Spelled([.. notes, .. notes.AsEnumerable().Reverse().Skip(1)]);
            for (var time = 0; time < 2; time++) pen.Slurred(round, Beats.Quarter, (_, _) => ChangeIntent.NaturalSlur);
        }

        pen.Section("By ear");
        Scale(pen, [.. scale]);
        Scale(pen, [.. scale.AsEnumerable().Reverse()]);
        return pen.Finish();
    }

    private static void Scale(ExerciseWriting pen, List<PlacedNote> notes)
    {
        for (var i = 0; i < notes.Count; i++) pen.Note(notes[i].Pitch, Beats.Quarter, asked: null, notes[i].Prescribed, breath: i == notes.Count - 1 || i % 8 == 7);
        pen.FillBar();
    }

    // Semitones in a row on the open horn, from the second partial to the sixth.
    private static List<PlacedNote> LongestScale(Pupil pupil)
    {
        List<PlacedNote> best = [], run = [];
        var low = pupil.Instrument.Pedal.Midi;
        for (var midi = low + Tube.NearestSemitone(2); midi <= low + Tube.NearestSemitone(6); midi++)
        {
            var pitch = Pitch.FromMidi(midi);
            if (pupil.Plays(pitch) && OnOpenHorn(pupil, pitch) is { } setting) run = [.. run, new(pitch, setting)];
            else run = [];
            if (run.Count > best.Count) best = run;
        }

        return best;
    }

    // As a chart without valves has it: the nearest position.
    private static SlideSetting? OnOpenHorn(Pupil pupil, Pitch pitch) =>
        pupil.SettingsFor(pitch).Where(s => s.Side.Valves.IsEmpty).OrderBy(s => s.Semitone).ThenBy(s => s.Partial).FirstOrDefault();
}
