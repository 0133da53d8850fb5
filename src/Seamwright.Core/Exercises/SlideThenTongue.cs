using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>Two notes on one partial: the slide alone, slow and fast, then the tongue over it.</summary>
internal static class SlideThenTongue
{
    public static readonly ExerciseKind Kind = new(
        "slide-then-tongue", "two notes: a slow slide, a fast slide, then the soft tongue over the same slide",
        [nameof(ExerciseOrder.Note), nameof(ExerciseOrder.Positions)], Make);

    private const int Times = 4;

    // Positions the slide goes over where none are ordered, by level (proposed default).
    private static readonly int[] Furthest = [2, 3, 3, 4, 5, 6];
    private const double Slow = 60;

    // The slow slide needs its time: no quicker than this share of what the level asks in scales (proposed default): 70 to 115.
    private const double FastShare = 0.8;

    private static readonly (string Heading, ChangeIntent Asked)[] Steps =
    [
        ("Slow slide: hear it all the way", ChangeIntent.SlowSlide),
        ("Fast slide, still no tongue", ChangeIntent.FastSlide),
        ("The same slide, and the tongue touches while it moves", ChangeIntent.SoftTongue),
    ];

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        if (PairOf(order, pupil) is not var (low, high))
            return Outcome<ExerciseSet>.Failed("slide-then-tongue", "no two notes on one partial of the open slide fit this pupil's range and reach here.", "Choose another note or other positions.");
        var together = Spelling.Together([low.Pitch, high.Pitch]);
        var (from, to) = (low with { Pitch = together[0] }, high with { Pitch = together[1] });
        var draft = new ExerciseDraft
        {
            Id = $"slide-then-tongue-{Placing.Slug(from.Pitch.Name)}{from.Pitch.Octave}-{Placing.Slug(to.Pitch.Name)}{to.Pitch.Octave}",
            Kind = Kind.Name,
            Title = $"Slide, then tongue: {from.Pitch.ToDisplay()} and {to.Pitch.ToDisplay()}",
            Purpose = "Tongue and slide belong in one moment: first the slide alone, so that you hear when it moves, then the tongue in the middle of it.",
            Practice =
            [
                "Slow slide: keep blowing and hear the whole way between the notes.",
                "Fast slide: wait on the note, then move at once; still no tongue.",
                "With the tongue: nothing changes but a light touch while the slide is under way.",
                "When the touch comes too early or too late, go back to the fast slide.",
            ],
            Part = Write(from, to),
            Tempos = [Slow],
        };
        return Drafts.Finish([draft.Climb(pupil, order.Tempos, Slow, FastShare * Levels.TempoOf(pupil.Level))], pupil);
    }

    // Where no positions are ordered, from the closed slide as far as the level goes, within the moves that levels are made of
    // (ExerciseDifficulty), less where the arm, the range or the note ordered does not allow it.
    private static (Placed From, Placed To)? PairOf(ExerciseOrder order, Pupil pupil) => order.Positions is { } named
        ? PairOf(order, pupil, named.From, named.To)
        : Enumerable.Range(1, Furthest[pupil.Level - 1]).Reverse().Select(way => PairOf(order, pupil, 1, 1 + way)).FirstOrDefault(p => p is not null);

    // The notes of two positions on the ordered note's partial, the ordered note first.
    private static (Placed From, Placed To)? PairOf(ExerciseOrder order, Pupil pupil, int first, int second)
    {
        var all = Enumerable.Range(pupil.Lowest.Midi, Math.Max(0, pupil.Highest.Midi - pupil.Lowest.Midi + 1)).Select(Pitch.FromMidi)
            .SelectMany(p => pupil.SettingsFor(p).Where(s => s.Valves.IsEmpty).Select(s => new Placed(p, s))).ToList();
        var pairs = all.Where(a => a.Setting.Semitone + 1 == first)
            .SelectMany(a => all.Where(b => b.Setting.Semitone + 1 == second && b.Setting.Partial == a.Setting.Partial).Select(b => (From: a, To: b))).ToList();
        if (order.Note is { } note) pairs = [.. pairs.Where(p => p.From.Pitch.Midi == note.Midi || p.To.Pitch.Midi == note.Midi)];
        var middle = (pupil.Lowest.Midi + pupil.Highest.Midi) / 2.0;
        return pairs.Count == 0 ? null : pairs.OrderBy(p => p.From.Pitch.Midi != order.Note?.Midi).ThenBy(p => Math.Abs(p.From.Pitch.Midi - middle)).First();
    }

    private static Part Write(Placed from, Placed to)
    {
        var pen = new ExerciseWriting(new KeySignature(0), Meter.CommonTime);
        foreach (var (heading, asked) in Steps)
        {
            pen.Section(heading);
            for (var time = 0; time < Times; time++)
            {
                Placed[] line = time % 2 == 0 ? [from, to, from] : [to, from, to];
                var spans = line.Select((n, i) => pen.Note(n.Pitch, i == 2 ? Beats.Quarter * 2 : Beats.Quarter, i == 0 ? null : asked, SettingPattern.Of(n.Setting).ToString(), breath: i == 2)).ToList();
                pen.Slur(spans[0], spans[^1]);
                if (asked != ChangeIntent.SlowSlide) continue;
                pen.Glissando(spans[0], spans[1]);
                pen.Glissando(spans[1], spans[2]);
            }
        }

        return pen.Finish();
    }

    private sealed record Placed(Pitch Pitch, Instruments.SlideSetting Setting);
}
