using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;
using Seamwright.Core.Units;

namespace Seamwright.Film.Score;

/// <summary>What the head of the screen says about whose turn it is, from a time on.</summary>
/// <param name="Time">Film time in seconds.</param>
/// <param name="Text">Empty where nothing is to be said.</param>
/// <param name="IsYours">Whether the pupil is to play now.</param>
public readonly record struct TurnSign(double Time, string Text, bool IsYours)
{
    /// <summary>The signs of a play-along, in time: every beat that is counted, and who plays.</summary>
    /// <param name="schedule">What happens when.</param>
    /// <param name="offset">Film time of its first sample.</param>
    public static ImmutableArray<TurnSign> Of(Schedule schedule, Seconds offset)
    {
        var signs = ImmutableArray.CreateBuilder<TurnSign>();
        for (var s = 0; s < schedule.Sections.Length; s++)
        {
            var section = schedule.Sections[s];
            if (section.Phrase is null) signs.AddRange(Counted(schedule, s).Select(b => new TurnSign(TimeOf(b.At), $"{(section.Kind == SectionKind.CountIn ? "count-in" : "wait")} {b.Number}", false)));
            else signs.Add(new(TimeOf(section.Start), Words(schedule, section.Kind), section.Kind == SectionKind.You && schedule.Settings.Turns == Turns.ExampleThenYou));
        }

        return signs.All(n => n.Text.Length == 0) ? [] : signs.ToImmutable();

        double TimeOf(long at) => (offset + schedule.Rate.ToSeconds(at)).Value;
    }

    private static IEnumerable<ScheduledBeat> Counted(Schedule schedule, int section) =>
        schedule.Beats.Where(b => b.Section == section && b.Strength != BeatStrength.Subdivision);

    private static string Words(Schedule schedule, SectionKind kind) => kind switch
    {
        SectionKind.Example when schedule.Faults.Fault != Fault.None => "faulty example",
        _ when schedule.Settings.Turns != Turns.ExampleThenYou => "",
        SectionKind.Example => "listen",
        _ => "your turn",
    };
}
