using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.VoiceCheck;

/// <summary>Slurred lines to try the voice on.</summary>
internal static class Pairs
{
    /// <summary>Notes of a second each, slurred, on the tenor with F valve.</summary>
    public static Plan Plan(params string[] pitches) => Plan(new PlanSettings(), 1, pitches);

    /// <summary>As told.</summary>
    public static Plan Plan(PlanSettings settings, double seconds, params string[] pitches) => Plan(Catalogue.Find("tenor-f")!, settings, seconds, [.. pitches.Select(Pitch.Parse)]);

    /// <summary>Notes of so many seconds each on any horn.</summary>
    public static Plan Plan(Instrument instrument, PlanSettings settings, double seconds, Pitch[] pitches)
    {
        var map = TempoMap.Steady(60 / seconds);
        var notes = pitches.Select((p, i) => new PlayedNote
        {
            Index = i,
            NoteIds = [$"n{i}"],
            Bar = $"{(i / 4) + 1}",
            Beat = new Beats((i % 4) + 1, 1),
            Pitch = p,
            Start = new Beats(i, 1),
            Length = Beats.Quarter,
            StartTime = map.At(new Beats(i, 1)),
            Duration = map.Between(new Beats(i, 1), new Beats(i + 1, 1)),
            SlurredToNext = i + 1 < pitches.Length,
        });
        return Planner.Plan(new Line { Title = "Pairs", Notes = [.. notes], Tempo = map }, instrument, settings).Value;
    }
}
