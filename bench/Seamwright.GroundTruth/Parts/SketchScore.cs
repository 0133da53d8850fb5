using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.GroundTruth.Parts;

/// <summary>A sketch as a sheet of music.</summary>
internal static class SketchScore
{
    /// <summary>One part of 4/4 bars; what is missing in the last bar is filled with rests.</summary>
    public static Score Of(Sketch sketch)
    {
        var bars = ImmutableArray.CreateBuilder<Bar>();
        var slurs = ImmutableArray.CreateBuilder<Span>();
        var events = ImmutableArray.CreateBuilder<ScoreEvent>();
        var (at, open, count) = (Beats.Zero, (string?)null, 0);
        foreach (var e in sketch.Events)
        {
            var id = $"n{++count}";
            events.Add(Written(e, id, at));
            if (e.SlurredToNext) open ??= id;
            else if (open is not null)
            {
                slurs.Add(new Span(open, id));
                open = null;
            }

            at += e.Length;
            if (at < Meter.CommonTime.BarLength) continue;
            bars.Add(BarOf(bars.Count, events, sketch.Tempo));
            (at, events) = (Beats.Zero, ImmutableArray.CreateBuilder<ScoreEvent>());
        }

        if (events.Count > 0)
        {
            foreach (var value in Shapes.Fill(at, Meter.CommonTime.BarLength - at))
            {
                events.Add(new Rest { Id = $"n{++count}", Offset = at, Duration = value.Duration, Value = value });
                at += value.Duration;
            }

            bars.Add(BarOf(bars.Count, events, sketch.Tempo));
        }

        return new Score { Title = sketch.Title, Parts = [new Part { Id = "P1", Name = "Trombone", Bars = bars.ToImmutable(), Slurs = slurs.ToImmutable() }] };
    }

    private static ScoreEvent Written(SketchEvent e, string id, Beats at)
    {
        var value = Shapes.Nearest(e.Length);
        return e.Midi is { } midi
            ? new Note { Id = id, Offset = at, Duration = e.Length, Value = value, Pitch = Pitch.FromMidi(midi) }
            : new Rest { Id = id, Offset = at, Duration = e.Length, Value = value };
    }

    private static Bar BarOf(int index, ImmutableArray<ScoreEvent>.Builder events, double tempo) => new()
    {
        Index = index,
        Number = $"{index + 1}",
        Start = Meter.CommonTime.BarLength * index,
        Length = Meter.CommonTime.BarLength,
        Meter = Meter.CommonTime,
        Key = new KeySignature(0),
        Clefs = index == 0 ? [new ClefMark(Beats.Zero, Clef.Bass)] : [],
        Tempos = index == 0 ? [new TempoText(Beats.Zero, tempo, "", NoteValue.Quarter)] : [],
        Events = events.ToImmutable(),
    };
}
