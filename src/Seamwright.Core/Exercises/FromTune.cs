using System.Collections.Immutable;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The hardest changes of a tune, each as a ladder: the two notes alone, then their bar, then their phrase.</summary>
internal static class FromTune
{
    public static readonly ExerciseKind Kind = new(
        "from-tune", "the hardest changes of a tune, each alone there and back, then in its bar, then in its phrase",
        [nameof(ExerciseOrder.Tune), nameof(ExerciseOrder.Count)], Make)
    {
        NeedsTune = true,
    };

    // Below it hardly a slide moves: a soft tongue on a still slide is 0.1, a slur to the next partial over one position 0.1 (see ChangeDifficulty).
    private const double Hard = 0.15;
    private const double HardlyEasier = 0.1;
    private const int Usual = 3;

    // What a pupil's breath lasts in quiet playing, in seconds (proposed default).
    private const double Breath = 12;
    private const double SlowShare = 0.6;

    // The bar, then the phrase.
    private const int Surroundings = 2;

    private static Outcome<ExerciseSet> Make(ExerciseOrder order, Pupil pupil)
    {
        var tune = order.Tune!;
        var line = Unfolder.Play(tune.Part, tune.Title);
        if (!line.Succeeded) return Outcome<ExerciseSet>.Failed(line.Problems);
        // In places of the pupil's own year, unless the tune prescribes others.
        var planned = Planner.Plan(line.Value, pupil.Instrument, Places.Own(pupil).Settings) is { Succeeded: true } own ? own : Planner.Plan(line.Value, pupil.Instrument, pupil.Settings);
        if (!planned.Succeeded) return Outcome<ExerciseSet>.Failed(planned.Problems);
        if (order.Change is { } asked && (asked < 0 || asked >= planned.Value.Changes.Length))
            return Outcome<ExerciseSet>.Failed("change", $"the tune has {planned.Value.Changes.Length} changes, so there is none with the index {asked}.", "Name one from 0.");
        var hard = order.Change is { } one ? [planned.Value.Changes[one]] : HardChanges(planned.Value);
        if (!hard.Exists(IsJoined)) return NothingHard(tune, planned.Value);
        return Ladders(order, pupil, tune, planned.Value, hard);
    }

    /// <summary>Joined changes from the hardest down, each pair of pitches once, whichever way it goes.</summary>
    private static List<NoteChange> HardChanges(Plan plan) =>
        [.. plan.Hardest.Where(c => c.Difficulty >= Hard && IsJoined(c)).DistinctBy(c => Pair(plan, c))];

    private static bool IsJoined(NoteChange c) => c.Kind is ChangeKind.NaturalSlur or ChangeKind.ValveSlur or ChangeKind.SoftTongue;

    private static (int Low, int High) Pair(Plan plan, NoteChange c)
    {
        var (a, b) = (plan.Notes[c.FromNote].Note.Pitch.Midi, plan.Notes[c.ToNote].Note.Pitch.Midi);
        return (Math.Min(a, b), Math.Max(a, b));
    }

    private static Outcome<ExerciseSet> NothingHard(Tune tune, Plan plan)
    {
        var hardest = plan.Hardest.FirstOrDefault(IsJoined);
        var what = hardest is null
            ? "no note is joined to the next one in a way that asks anything."
            : $"no joined change is hard: the hardest ({plan.Notes[hardest.FromNote].Note.Pitch.ToDisplay()} to {plan.Notes[hardest.ToNote].Note.Pitch.ToDisplay()}) has {hardest.Difficulty:0.00} of 1, and practice begins at {Hard:0.00}.";
        return Outcome<ExerciseSet>.Failed(tune.Title.Length > 0 ? tune.Title : "the tune", what, "Take a tune with slurs over moves of the slide, or order two-notes.");
    }

    // A change whose phrase the pupil cannot play gives way to the next hardest.
    private static Outcome<ExerciseSet> Ladders(ExerciseOrder order, Pupil pupil, Tune tune, Plan plan, List<NoteChange> hard)
    {
        var phrases = Phrases.Of(plan.Line);
        var made = new List<ExerciseDraft>();
        var failed = new List<ExerciseDraft>();
        foreach (var change in Spread(hard, phrases))
        {
            if (made.Count == (order.Count ?? Usual)) break;
            // One that was asked for by itself is better without its phrase, or its bar, than not at all.
            var tried = Enumerable.Range(0, order.Change is null ? 1 : 3).Select(less => Draft(order, pupil, tune, plan, change, phrases, (made.Count + 1, failed.Count > 0), Surroundings - less)).ToList();
            if (tried.Find(d => d.Finish(pupil).Succeeded) is { } draft) made.Add(draft);
            else failed.Add(tried[0]);
        }

        if (made.Count == 0) return Outcome<ExerciseSet>.Failed([LeftOut(tune, pupil, failed) with { Severity = Severity.Error }]);
        var all = Drafts.Finish(made, pupil);
        return all.Succeeded && failed.Count > 0 ? Outcome<ExerciseSet>.Of(all.Value, [.. all.Problems, LeftOut(tune, pupil, failed)]) : all;
    }

    // Two changes of one phrase would make two pages that are nearly the same: one of another phrase goes first where it is hardly easier.
    private static IEnumerable<NoteChange> Spread(List<NoteChange> hard, ImmutableArray<Phrase> phrases)
    {
        var (left, used) = (hard.ToList(), new HashSet<int>());
        while (left.Count > 0)
        {
            var next = left.Find(c => c.Difficulty >= left[0].Difficulty - HardlyEasier && !used.Contains(PhraseOf(c))) ?? left[0];
            left.Remove(next);
            used.Add(PhraseOf(next));
            yield return next;
        }

        int PhraseOf(NoteChange change) => phrases.Last(p => p.FirstNote <= change.FromNote).FirstNote;
    }

    // Told once, however many they are.
    private static Problem LeftOut(Tune tune, Pupil pupil, List<ExerciseDraft> failed)
    {
        var notes = failed.SelectMany(d => d.Part.Notes).Select(n => n.Pitch).DistinctBy(p => p.Midi).Where(p => !pupil.Plays(p)).OrderBy(p => p.Midi).Select(p => p.ToDisplay()).ToList();
        var why = notes.Count > 0 ? $"a note of their phrases ({string.Join(", ", notes)}) lies outside what this pupil plays ({pupil.Lowest.ToDisplay()} to {pupil.Highest.ToDisplay()} on {pupil.Instrument.Id}, arm and valves as set)" : "this pupil's arm is too slow for them or their settings do not give what is asked";
        return new(tune.Title.Length > 0 ? tune.Title : "the tune", $"{(failed.Count == 1 ? "one hard change is" : $"{failed.Count} hard changes are")} left out: {why}.", "Choose another key or a higher level to have them.", Severity.Note);
    }

    private static ExerciseDraft Draft(ExerciseOrder order, Pupil pupil, Tune tune, Plan plan, NoteChange change, ImmutableArray<Phrase> phrases, (int Place, bool HarderLeftOut) rank, int around)
    {
        var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
        var pair = $"{a.Note.Pitch.ToDisplay()} to {b.Note.Pitch.ToDisplay()}";
        var tempo = Passage.TempoAt(plan, change.FromNote);
        var slow = Math.Max(30, tempo * SlowShare);
        var isOneLength = Lengths(a.Note.Length, Breath * slow / 60 / 3).Count() == 1;
        var draft = new ExerciseDraft
        {
            Id = $"from-tune-{rank.Place}-{Placing.Slug(a.Note.Pitch.Name)}{a.Note.Pitch.Octave}-{Placing.Slug(b.Note.Pitch.Name)}{b.Note.Pitch.Octave}",
            Kind = Kind.Name,
            Title = tune.Title.Length == 0 ? $"From the tune: {pair}" : $"From {tune.Title}: {pair}",
            Purpose = $"This change (bar {a.Note.Bar}) is {(order.Change is not null ? "the one to mend" : rank.HarderLeftOut ? "one of the hardest of the tune that you can play now" : "one of the hardest of the tune")}. {change.Reason}",
            Practice =
            [
                isOneLength ? "Begin with the two notes alone, there and back; go on when three in a row are clean." : "Begin with the two notes alone, there and back, in long notes; go on when three in a row are clean.",
                isOneLength ? "Then take the bar, then the phrase." : "Take the next line when the shorter notes are as clean as the long ones, then the bar, then the phrase.",
                "Raise the tempo only when the whole phrase is clean; the air never stops at the hard place.",
            ],
            Part = Write(tune.Part, plan, change, phrases, slow, around),
            Tempos = [tempo],
            KeepsSignature = true,
        };
        string Beat(double quarters) => TempoWords.Of(BarOf(plan, change.FromNote).Meter, Math.Round(quarters));
        var climbed = draft.Climb(pupil, order.Tempos, slow, tempo, keepsTempo: true);
        climbed = climbed with { Part = Write(tune.Part, plan, change, phrases, climbed.Tempos[0], around) };
        return order.Tempos is null && climbed.Tempos[^1] < Math.Round(tempo)
            ? climbed with { Purpose = $"{climbed.Purpose} Your arm allows {Beat(climbed.Tempos[^1])}; the tune goes at {Beat(tempo)}." }
            : climbed;
    }

    private static Part Write(Part part, Plan plan, NoteChange change, ImmutableArray<Phrase> phrases, double slow, int around)
    {
        var (a, b) = (plan.Notes[change.FromNote], plan.Notes[change.ToNote]);
        var pen = new ExerciseWriting(BarOf(plan, change.FromNote).Key, Meter.CommonTime);
        foreach (var (heading, each) in Lengths(a.Note.Length, Breath * slow / 60 / 3))
        {
            var notes = 5 * each.ToDouble() * 60 / slow <= Breath ? 5 : 3;
            pen.Section(heading);
            ThereAndBack(pen, plan, a, b, change, each, notes);
            ThereAndBack(pen, plan, b, a, change, each, notes);
        }

        if (around == 0) return pen.Finish();
        // A change from one phrase into the next belongs to both. What else stands in its bars belongs to none.
        var phrase = (First: phrases.Last(p => p.FirstNote <= change.FromNote).FirstNote, Last: phrases.First(p => p.LastNote >= change.ToNote).LastNote);
        var bar = (First: Math.Max(phrase.First, FirstFrom(plan, BarOf(plan, change.FromNote).Start)), Last: Math.Min(phrase.Last, LastBefore(plan, BarOf(plan, change.ToNote).End)));
        pen.Append(BarOf(plan, change.FromNote) == BarOf(plan, change.ToNote) ? "In its bar" : "In its bars", Prescribing.Excerpt(part, plan, bar.First, bar.Last, Prescribing.AsPlanned));
        if (around > 1 && (phrase.First < bar.First || phrase.Last > bar.Last)) pen.Append("In its phrase", Prescribing.Excerpt(part, plan, phrase.First, phrase.Last, Prescribing.AsPlanned));
        return pen.Finish();
    }

    // Four times, twice and once as long as in the tune, in plain notes from a whole to a sixteenth; three of them fit one breath.
    private static IEnumerable<(string Heading, Beats Each)> Lengths(Beats inTune, double longest)
    {
        Beats[] plain = [Beats.Quarter * 4, Beats.Quarter * 2, Beats.Quarter, Beats.Quarter / 2, Beats.Quarter / 4];
        var found = Array.FindIndex(plain, p => p <= inTune);
        var own = found < 0 ? plain.Length - 1 : found;
        var pace = plain[own] == inTune ? "as fast as in the tune" : "about as fast as in the tune";
        var slowest = Math.Min(own, Math.Max(own - 2, Array.FindIndex(plain, p => p.ToDouble() <= longest)));
        string[] headings = ["The two notes alone, slowly", "The same, twice as fast", slowest == own ? $"The two notes alone, {pace}" : $"The same, {pace}"];
        for (var i = slowest; i <= own; i++) yield return (headings[i == own ? 2 : i - slowest], plain[i]);
    }

    // There and back under one slur, as the tune's plan has the notes.
    private static void ThereAndBack(ExerciseWriting pen, Plan plan, PlannedNote from, PlannedNote to, NoteChange change, Beats each, int notes)
    {
        Span? first = null, last = null;
        for (var i = 0; i < notes; i++)
        {
            var (before, here) = i % 2 == 0 ? (to, from) : (from, to);
            last = pen.Note(here.Note.Pitch, each, i == 0 ? null : AskedBetween(plan, before, here, change), SettingPattern.Of(here.Setting!).ToString());
            first ??= last;
        }

        pen.Slur(first!, last!);
        pen.Rest(pen.LeftInBar < pen.BarLength ? pen.LeftInBar : pen.BarLength);
    }

    // The way back is asked for as the plan would ask it: by itself where the settings separate, else with the soft tongue.
    private static ChangeIntent AskedBetween(Plan plan, PlannedNote before, PlannedNote here, NoteChange change)
    {
        var everyNote = plan.Player.Policy == TonguePolicy.EveryNote || (change.Kind == ChangeKind.SoftTongue && !Smears(plan, plan.Notes[change.FromNote], plan.Notes[change.ToNote]));
        return everyNote || Smears(plan, before, here) ? ChangeIntent.SoftTongue : ChangeIntent.NaturalSlur;
    }

    private static bool Smears(Plan plan, PlannedNote a, PlannedNote b) => Separations.Between(plan.Instrument, a.Note.Pitch, a.Setting!, b.Note.Pitch, b.Setting!).WouldSmear();

    private static PlayedBar BarOf(Plan plan, int note) => Phrases.BarAt(plan.Line, plan.Notes[note].Note.Start);

    private static int FirstFrom(Plan plan, Beats place) => plan.Notes.First(n => n.Note.Start >= place).Note.Index;

    private static int LastBefore(Plan plan, Beats place) => plan.Notes.Last(n => n.Note.Start < place).Note.Index;
}
