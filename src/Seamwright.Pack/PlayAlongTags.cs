using Seamwright.Audio.Writing;
using Seamwright.Core.Sound;
using Seamwright.Core.Sound.PlayAlong;

namespace Seamwright.Pack;

/// <summary>What a play-along's sound file says of itself.</summary>
public static class PlayAlongTags
{
    /// <summary>Title, key, tempo and instrument; and that examples are wrong on purpose, where they are.</summary>
    public static SoundTags Of(Schedule schedule)
    {
        var plan = schedule.Rounds[0].Plan;
        var tempos = schedule.Rounds.Select(r => $"{r.Tempo:0.##}").ToList();
        var wrong = schedule.Faults.Fault == Fault.None ? "" : $" The examples are wrong on purpose: {schedule.Faults}{(schedule.Rounds.Any(r => schedule.Faults.Otherwise(r.Plan).Any()) ? ", or what there is room for" : "")}.";
        return new SoundTags
        {
            Title = $"{(plan.Line.Title.Length > 0 ? plan.Line.Title : "Untitled")} (play-along{(wrong.Length > 0 ? $", {schedule.Faults.Fault.WireName()} on purpose" : "")})",
            Key = plan.Line.Bars[0].Key,
            Tempo = schedule.Rounds[0].Tempo,
            Comment = $"{plan.Instrument.Name}; quarter = {string.Join(", ", tempos)}.{wrong} Made by Seamwright.",
        };
    }
}
