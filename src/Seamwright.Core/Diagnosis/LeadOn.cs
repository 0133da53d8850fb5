using Seamwright.Core.Exercises;
using Seamwright.Core.Planning;

namespace Seamwright.Core.Diagnosis;

/// <summary>What comes after a take in which nothing was to mend: the next harder thing, never the same again.</summary>
/// <remarks>A scale in three passes first, then scales, intervals and chords, in all keys. Of what belongs to a higher level than what was played and to none above the
/// pupil's next, the smallest step is taken; where there is none, the smallest step in <see cref="ExerciseDifficulty"/> within the level: one thing at a time
/// becomes harder (common practice).</remarks>
internal static class LeadOn
{
    private static readonly string[] Course = ["three-passes", "scales", "intervals", "arpeggios"];

    /// <summary>One exercise.</summary>
    /// <param name="plan">What was played without fault.</param>
    /// <param name="pupil">Who played.</param>
    /// <param name="later">The same pupil one level on; null at the last.</param>
    public static Outcome<NextWork> From(Plan plan, Pupil pupil, Pupil? later)
    {
        var difficulty = ExerciseDifficulty.Of(plan);
        var level = ExerciseDifficulty.LevelOf(plan, difficulty);
        var who = later ?? pupil;
        var orders = Course.SelectMany(kind => new[] { Register.Middle, Register.High }.Select(r => new ExerciseOrder { Kind = kind, Keys = TwelveKeys.Named(null, null), Register = r }));
        var lines = Line(plan);
        var made = orders.Select(o => ExerciseMaker.Make(o, who)).Where(m => m.Succeeded)
            .Select(m => m.Value.Exercises.Where(e => e.Level <= who.Level && !Line(e.Plan).SequenceEqual(lines)).OrderBy(e => e.Level).ThenBy(e => e.Difficulty).ToList()).ToList();
        var next = made.Select(kind => kind.Find(e => e.Level > level)).FirstOrDefault(e => e is not null)
            ?? made.Select(kind => kind.Find(e => e.Level == level && e.Difficulty > difficulty)).FirstOrDefault(e => e is not null);
        if (next is not null) return Outcome<NextWork>.Of(Told(next, level));
        return Outcome<NextWork>.Of(new NextWork([], "Nothing was to mend in this take, and nothing here is harder: play music with it, or choose a quicker tempo."));
    }

    private static IEnumerable<int> Line(Plan plan) => plan.Notes.Select(n => n.Note.Pitch.Midi);

    private static NextWork Told(Exercise next, int level)
    {
        var (reason, sentence) = next.Level > level
            ? ($"Nothing was to mend: this is level {next.Level}, and what you played was level {level}.", "Nothing was to mend in this take: go on to the next level.")
            : ($"Nothing was to mend: this is level {level} like what you played, and a little harder.", "Nothing was to mend in this take: go on to something harder.");
        return new NextWork([new(null, next with { Reason = reason })], sentence);
    }
}
