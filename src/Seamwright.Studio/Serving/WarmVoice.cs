using Microsoft.Extensions.Hosting;
using Seamwright.Core.Instruments;
using Seamwright.Core.Planning;
using Seamwright.Core.Scores;
using Seamwright.Core.Sound;
using Seamwright.Core.Units;

namespace Seamwright.Studio.Serving;

/// <summary>Plays a few notes into nothing when the server has started: the voice is compiled when it is first played, and so the first
/// play-along need not wait for that.</summary>
internal sealed class WarmVoice : BackgroundService
{
    // Once in a process is enough, however many servers it runs.
    private static readonly Lazy<Task> Warm = new(() => Task.Run(Play));

    /// <summary>Notes that are slid, slurred from partial to partial, and held.</summary>
    internal static Plan Notes()
    {
        var map = TempoMap.Steady(60);
        Pitch[] pitches = [.. new[] { "Bb3", "A3", "D4", "F3" }.Select(Pitch.Parse)];
        var notes = pitches.Select((p, i) => new PlayedNote
        {
            Index = i,
            NoteIds = [$"n{i}"],
            Bar = "1",
            Beat = new Beats(i + 1, 1),
            Pitch = p,
            Start = new Beats(i, 1),
            Length = Beats.Quarter,
            StartTime = map.At(new Beats(i, 1)),
            Duration = map.Between(new Beats(i, 1), new Beats(i + 1, 1)),
            SlurredToNext = i + 1 < pitches.Length,
        });
        return Planner.Plan(new Line { Title = "Warm", Notes = [.. notes], Tempo = map }, Catalogue.Find("tenor-f")!).Value;
    }

    /// <inheritdoc/>
    protected override Task ExecuteAsync(CancellationToken stoppingToken) => Warm.Value;

    private static void Play()
    {
        var plan = Notes();
        var voice = Voice.Open(plan, Playing.Clean(plan));
        var block = new float[4096];
        while (voice.Read(block) > 0)
        {
        }
    }
}
