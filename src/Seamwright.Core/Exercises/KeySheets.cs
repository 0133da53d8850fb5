using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Core.Exercises;

/// <summary>The best keys of a tune as sheets of one look with the exercises: the tune in each key, with what speaks for it.</summary>
public static class KeySheets
{
    /// <summary>A sheet for each of the best keys, the best first.</summary>
    /// <param name="title">Of the tune; empty for none.</param>
    /// <param name="ranking">Weighed keys.</param>
    /// <param name="pupil">Whose they are.</param>
    /// <param name="count">How many, at least 1.</param>
    public static ImmutableArray<Exercise> Of(string title, KeyRanking ranking, Pupil pupil, int count)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        return [.. ranking.Options.Take(count).Select((o, i) => Sheet(title.Length == 0 ? "The tune" : title, o, i, ranking, pupil))];
    }

    private static Exercise Sheet(string title, KeyOption option, int place, KeyRanking ranking, Pupil pupil)
    {
        var (plan, key) = (option.Plan, option.Key.ToDisplay());
        var name = $"{title} in {key}, {KeyWords.Moved(option.Semitones)}";
        var part = Dressed(option, pupil);
        var difficulty = ExerciseDifficulty.Of(plan);
        var level = ExerciseDifficulty.LevelOf(plan, difficulty);
        return new Exercise
        {
            Id = $"keys-{place + 1}-{Placing.Slug(option.Key.Tonic)}",
            Kind = "keys",
            Title = name,
            Purpose = $"{Place(place)} of {ranking.Options.Length} keys that fit this range: {KeyWords.Own(option.Score)}.",
            Practice =
            [
                "Play it once slowly and mark every change at which the slide is heard.",
                "Play it in the other keys of these sheets too, and keep the key with the fewest marks.",
            ],
            Reason = option.Semitones == 0 || ranking.Written is null ? "" : $"Against the key as written: {Lowered(option.Reason)}",
            Demand = level > pupil.Level ? DemandWords.Of(plan, level) : "",
            Score = new Score { Title = name, Parts = [part] },
            Plan = plan,
            Tempos = [Math.Clamp(plan.Line.Tempo.Marks[0].QuartersPerMinute, 20, 240)],
            Level = level,
            Difficulty = difficulty,
            Range = (plan.Notes.MinBy(n => n.Note.Pitch)!.Note.Pitch, plan.Notes.MaxBy(n => n.Note.Pitch)!.Note.Pitch),
            Key = key,
            Rest = "Rest as long as you played before you go on.",
            Minutes = Math.Max(1, Math.Round(2 * (plan.Notes[^1].Note.EndTime - plan.Notes[0].Note.StartTime).Value / 60)),
            IsPiece = true,
        };
    }

    // Another octave may want another clef; a brass band's player reads treble whatever the key.
    private static Part Dressed(KeyOption option, Pupil pupil)
    {
        return option.Semitones == 0 || option.Part.Bars[0].Clefs.Any(c => c.Clef == Clef.TrebleBb) ? option.Part : ClefChoice.Dress(option.Part, pupil.Clef, pupil.Instrument.UsualClef);
    }

    private static string Place(int place) => place switch
    {
        0 => "The best",
        1 => "The second best",
        2 => "The third best",
        _ => $"Number {place + 1}",
    };

    private static string Lowered(string text) => char.ToLowerInvariant(text[0]) + text[1..];
}
