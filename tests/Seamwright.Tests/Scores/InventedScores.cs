using System.Collections.Immutable;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Scores;

/// <summary>Scores out of a seed, with everything a part can hold.</summary>
internal sealed class InventedScores
{
    private static readonly Meter[] Meters =
        [Meter.CommonTime, new(4, 4, MeterSymbol.Common), new(2, 2, MeterSymbol.Cut), new(3, 4), new(2, 4), new(6, 8), new(5, 4), new(7, 8), new(12, 8), new Meter(7, 8).Grouped([3, 2, 2]), new Meter(5, 4).Grouped([2, 3])];

    private static readonly (Interval Transposition, Clef[] Clefs)[] Kinds =
    [
        (Interval.Unison, [Clef.Bass, Clef.Tenor, Clef.Alto, Clef.Treble, Clef.BassOctaveDown, Clef.TrebleOctaveDown]),
        (Interval.MajorNinth, [Clef.TrebleBb]),
        (Interval.MajorSecond, [Clef.Treble, Clef.Bass]),
        (Interval.Octave, [Clef.Bass, Clef.Tenor]),
        (new Interval(-2, -3), [Clef.Alto, Clef.Treble]),
    ];

    private readonly Random random;
    private int ids;

    private InventedScores(int seed) => random = new Random(seed);

    public static Score From(int seed)
    {
        var invented = new InventedScores(seed);
        var score = new Score
        {
            Title = $"Tune <{seed}> & more",
            Subtitle = invented.Chance(2) ? "for \"one\"" : "",
            Composer = "M. Invented",
            Rights = invented.Chance(2) ? "CC0" : "",
            Parts = [.. Enumerable.Range(1, invented.random.Next(1, 4)).SelectMany(invented.Printed)],
        };
        return Shared(score);
    }

    // A reader gives tempo and road to all parts: only the first one decides here.
    private static Score Shared(Score score)
    {
        var first = score.Parts[0];
        return score with
        {
            Parts = [.. score.Parts.Select(Chorded).Select(p => p with { Bars = [.. p.Bars.Select(b => b.Index < first.Bars.Length
                ? b with { Tempos = [.. first.Bars[b.Index].Tempos.Where(t => t.Offset <= b.Length)], Road = first.Bars[b.Index].Road with { RightBarline = first.Bars[b.Index].Road.RepeatTimes > 0 ? BarlineStyle.Regular : b.Road.RightBarline } }
                : b with { Tempos = [], Road = new BarRoad { RightBarline = b.Road.RightBarline } })] })],
        };
    }

    // A reader gives a part without chord symbols those of another: either all have some, or none has.
    private static Part Chorded(Part part) => part with { Bars = [.. part.Bars.Select((b, i) => b with { Chords = i == 0 && b.Chords.IsEmpty ? [new ChordMark(Beats.Zero, null)] : b.Chords })] };

    private bool Chance(int oneIn) => random.Next(oneIn) == 0;

    private T Of<T>(IReadOnlyList<T> list) => list[random.Next(list.Count)];

    private IEnumerable<Part> Printed(int number)
    {
        var kind = Of(Kinds);
        var frame = Frame(kind.Clefs);
        foreach (var voice in Chance(3) ? new[] { "1", "2" } : ["1"])
        {
            var bars = frame.Select(Filled).ToList();
            if (!bars.Exists(b => b.Events.Any(e => e is Note { Grace: Grace.None }))) bars[0] = WithANote(bars[0]);
            bars = Tied(bars);
            var notes = bars.SelectMany(b => b.Events).OfType<Note>().Select(n => n.Id).ToList();
            yield return new Part
            {
                Id = $"P{number}",
                Name = $"Trombone {number}",
                Voice = voice,
                Transposition = kind.Transposition,
                Bars = [.. Courteous(bars, kind.Transposition)],
                Slurs = Spans(notes, 6),
                Glissandi = Spans(notes, 2),
            };
        }
    }

    private List<Bar> Frame(Clef[] clefs)
    {
        var bars = new List<Bar>();
        var start = Beats.Zero;
        var (meter, key) = (Of(Meters), Key());
        var upbeat = Chance(3) ? meter.Beat : Beats.Zero;
        var count = random.Next(2, 7);
        for (var i = 0; i < count; i++)
        {
            if (Chance(5) && i > 0 && upbeat == Beats.Zero) meter = Of(Meters);
            if (Chance(5)) key = Key();
            var isUpbeat = upbeat > Beats.Zero && i == 0;
            var completes = upbeat > Beats.Zero && i == count - 1;
            var length = isUpbeat ? upbeat : completes ? meter.BarLength - upbeat : meter.BarLength;
            bars.Add(new Bar
            {
                Index = i,
                Number = isUpbeat ? "" : $"{i + 1}",
                IsPickup = isUpbeat || completes,
                Start = start,
                Length = length,
                Meter = meter,
                Key = key,
                Clefs = i == 0 || Chance(6) ? [new ClefMark(Beats.Zero, Of(clefs))] : [],
                Tempos = [.. Places(length, 6).Select(Tempo)],
                Directions = [.. Places(length, 2).Select(Marked)],
                Chords = [.. Places(length, 2).Distinct().Where(p => p < length).Select(p => new ChordMark(p, Chance(8) ? null : Chord()))],
                Events = [],
                Road = Road(i, count),
            });
            start += length;
        }

        return bars;
    }

    private KeySignature Key() => new(random.Next(-4, 4), Chance(2) ? KeyMode.Major : KeyMode.Minor);

    private IEnumerable<Beats> Places(Beats length, int oneIn)
    {
        if (!Chance(oneIn)) return [];
        var most = (int)(length.ToDouble() * 2);
        return Enumerable.Range(0, random.Next(1, 4)).Select(_ => new Beats(random.Next(0, most + 1), 2)).Order();
    }

    private Chord Chord()
    {
        var root = Name();
        var bass = Name();
        return new Chord(root, Of(Enum.GetValues<ChordKind>()))
        {
            Bass = Chance(4) && bass != root ? bass : null,
            Degrees = Chance(4) ? [new ChordDegree(9, -1, DegreeChange.Add), new ChordDegree(5, 1, DegreeChange.Alter)] : [],
        };
    }

    private PitchName Name() => new((Step)random.Next(7), random.Next(-1, 2));

    private TempoText Tempo(Beats at) => random.Next(4) switch
    {
        0 => new TempoText(at, random.Next(40, 160), "Calmly", NoteValue.Quarter),
        1 => new TempoText(at, random.Next(40, 160) * 1.5, "", new NoteValue(2, 1)),
        2 => new TempoText(at, null, "a tempo", null),
        _ => new TempoText(at, random.Next(40, 160) + 0.5, "", null),
    };

    private Direction Marked(Beats at)
    {
        var kind = Of(Enum.GetValues<DirectionKind>());
        var text = kind switch { DirectionKind.Dynamic => Of(["p", "mf", "ff", "sfzzz"]), DirectionKind.Words => "dolce & sost.", DirectionKind.RehearsalMark => "B", _ => "" };
        return new Direction(at, kind, text);
    }

    private BarRoad Road(int i, int count)
    {
        var repeat = Chance(5) ? random.Next(2, 4) : 0;
        var ending = Chance(6);
        return new BarRoad
        {
            RepeatStarts = Chance(6),
            RepeatTimes = repeat,
            Endings = ending ? [1, 2] : [],
            EndingStarts = ending,
            EndingStops = ending,
            Segno = Chance(9),
            Coda = Chance(9),
            Jump = Chance(8) ? Of([Jump.DaCapo, Jump.DalSegno]) : Jump.None,
            ToCoda = Chance(9),
            Fine = Chance(9),
            RightBarline = i == count - 1 ? BarlineStyle.Final : Chance(6) ? BarlineStyle.Double : BarlineStyle.Regular,
        };
    }

    private Bar Filled(Bar bar)
    {
        var events = new List<ScoreEvent>();
        if (Chance(8))
        {
            events.Add(new Rest { Id = Id(), Offset = Beats.Zero, Duration = bar.Length, Value = NoteValue.Whole, FillsBar = true, Fermata = Chance(4) });
            return bar with { Events = [.. events] };
        }

        for (var at = Beats.Zero; at < bar.Length;)
        {
            var pieces = Pieces(at, bar.Length - at);
            for (var i = 0; i < pieces.Count; i++)
            {
                var edge = !pieces[i].InTuplet ? TupletEdge.None : i == 0 ? TupletEdge.Start : i == pieces.Count - 1 ? TupletEdge.Stop : TupletEdge.None;
                var alone = pieces[i].Duration == bar.Length;
                if (Chance(5) && !alone) events.Add(new Rest { Id = Id(), Offset = at, Duration = pieces[i].Duration, Value = pieces[i], TupletEdge = edge, Fermata = Chance(10) });
                else AddNote(events, at, pieces[i], edge);
                at += pieces[i].Duration;
            }
        }

        return bar with { Events = [.. events] };
    }

    private List<NoteValue> Pieces(Beats at, Beats room)
    {
        if (Chance(6) && room >= Beats.Quarter && at.Denominator.IsOne) return [.. Enumerable.Repeat(new NoteValue(3, 0, 3, 2), 3)];
        if (Chance(10) && room >= Beats.Quarter && at.Denominator.IsOne) return [.. Enumerable.Repeat(new NoteValue(4, 0, 5, 4), 5)];
        var fitting = Enumerable.Range(0, 6).SelectMany(b => Enumerable.Range(0, 3).Select(d => new NoteValue(b, d))).Where(v => v.Duration <= room && v.Base + v.Dots <= 5).ToList();
        return [Of(fitting)];
    }

    private void AddNote(List<ScoreEvent> events, Beats at, NoteValue value, TupletEdge edge)
    {
        for (var graces = Chance(8) ? random.Next(1, 3) : 0; graces > 0; graces--)
        {
            events.Add(new Note
            {
                Id = Id(),
                Offset = at,
                Duration = Beats.Zero,
                Value = Of([NoteValue.Eighth, NoteValue.Sixteenth]),
                Pitch = Pitch(),
                Grace = Of([Grace.Plain, Grace.Slashed]),
            });
        }

        events.Add(new Note
        {
            Id = Id(),
            Offset = at,
            Duration = value.Duration,
            Value = value,
            TupletEdge = edge,
            Pitch = Pitch(),
            TieToNext = Chance(5),
            Articulations = Chance(4) ? (Articulations)random.Next(0, 64) : Articulations.None,
            BreathAfter = Chance(8),
            Fermata = Chance(12),
            CourtesyAccidental = Chance(6),
            Lyric = Chance(6) ? Of(["la", "du-", "ä & ö"]) : "",
        });
    }

    private Bar WithANote(Bar bar)
    {
        var events = new List<ScoreEvent>();
        AddNote(events, Beats.Zero, Shapes.Exact(bar.Meter.Beat)!.Value, TupletEdge.None);
        var at = bar.Meter.Beat;
        foreach (var value in Shapes.Fill(at, bar.Length - at))
        {
            events.Add(new Rest { Id = Id(), Offset = at, Duration = value.Duration, Value = value });
            at += value.Duration;
        }

        return bar with { Events = [.. events] };
    }

    private Pitch Pitch() => new((Step)random.Next(7), random.Next(-1, 2), random.Next(1, 5));

    private string Id() => $"n{++ids}";

    // A tie needs its pitch again in the very next note.
    private static List<Bar> Tied(List<Bar> bars)
    {
        Note? before = null;
        var result = bars.Select(b => b with { Events = [.. b.Events.Select(Follow)] }).ToList();
        ScoreEvent? after = null;
        for (var b = result.Count - 1; b >= 0; b--)
        {
            var events = result[b].Events.ToArray();
            for (var i = events.Length - 1; i >= 0; i--)
            {
                if (events[i] is Note { TieToNext: true } n && after is not Note { Grace: Grace.None }) events[i] = n with { TieToNext = false };
                after = events[i];
            }

            result[b] = result[b] with { Events = [.. events] };
        }

        return result;

        ScoreEvent Follow(ScoreEvent e)
        {
            var now = e is Note { Grace: Grace.None } n && before is { TieToNext: true } ? n with { Pitch = before.Pitch } : e;
            before = now as Note;
            return now;
        }
    }

    private static IEnumerable<Bar> Courteous(List<Bar> bars, Interval transposition)
    {
        var memory = new AccidentalMemory();
        var tied = false;
        foreach (var bar in bars)
        {
            memory.BeginBar(bar.Key.Transposed(transposition));
            yield return bar with
            {
                Events = bar.Events.Select(e =>
                {
                    var now = e is Note n && memory.Needs(n.Pitch + transposition, tied) ? n with { CourtesyAccidental = false } : e;
                    tied = now is Note { TieToNext: true };
                    return now;
                }).ToImmutableArray(),
            };
        }
    }

    private ImmutableArray<Span> Spans(List<string> notes, int most)
    {
        var spans = new HashSet<(int From, int To)>();
        for (var i = random.Next(0, most); i > 0 && notes.Count > 1; i--)
        {
            var from = random.Next(0, notes.Count - 1);
            spans.Add((from, random.Next(from + 1, Math.Min(notes.Count, from + 9))));
        }

        return [.. spans.Order().Select(s => new Span(notes[s.From], notes[s.To]))];
    }
}
