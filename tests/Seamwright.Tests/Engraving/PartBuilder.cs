using System.Collections.Immutable;
using System.Globalization;
using Seamwright.Core.Scores;
using Seamwright.Core.Units;

namespace Seamwright.Tests.Engraving;

/// <summary>Reads a shorthand into a part, for tests only.</summary>
/// <remarks>
/// Blank-separated words. Notes: <c>Bb3:4</c>, <c>r:8.</c>, <c>R</c> (whole bar), then letters: <c>~</c> tie, <c>(</c> <c>)</c> slur,
/// <c>*</c> fermata, <c>'</c> breath, <c>!</c> staccato, <c>_</c> tenuto, <c>^</c> accent, <c>g</c>/<c>G</c> grace plain/slashed,
/// <c>c</c> courtesy, <c>&gt;</c> glissando to the next note. <c>3[</c> … <c>]3</c> triplet. Bars end with <c>|</c>.
/// Directions: <c>dyn=mf cres dim end words=dolce tempo=Andante@88 reh=A clef=Tenor key=-3 meter=3/4 pickup [: :] :3]
/// 1[ ]1 segno coda dc ds fine tocoda dbl</c>; an underscore in words is a space.
/// </remarks>
internal sealed class PartBuilder
{
    private readonly List<Bar> bars = [];
    private readonly List<ScoreEvent> events = [];
    private readonly List<Direction> directions = [];
    private readonly List<TempoText> tempos = [];
    private readonly List<ClefMark> clefs = [];
    private readonly List<Span> slurs = [];
    private readonly List<Span> glissandi = [];
    private readonly Stack<string> openSlurs = new();
    private string? openGlissando;
    private Meter meter = Meter.CommonTime;
    private KeySignature key;
    private BarRoad road = BarRoad.Straight;
    private Beats at = Beats.Zero;
    private Beats start = Beats.Zero;
    private bool pickup;
    private bool inTuplet;
    private bool tupletBegins;
    private int number;
    private ImmutableArray<int> ending = [];

    public static Part Parse(string name, string text)
    {
        var builder = new PartBuilder();
        foreach (var word in text.Split([' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries)) builder.Take(word);
        if (builder.events.Count > 0) builder.EndBar();
        return new Part
        {
            Id = "P1",
            Name = name,
            Bars = [.. builder.bars],
            Slurs = [.. builder.slurs],
            Glissandi = [.. builder.glissandi],
        };
    }

    private void Take(string word)
    {
        switch (word)
        {
            case "|": EndBar(); break;
            case "3[": inTuplet = tupletBegins = true; break;
            case "]3":
                inTuplet = false;
                events[^1] = events[^1] with { TupletEdge = TupletEdge.Stop };
                break;
            case "pickup": pickup = true; break;
            case "[:": road = road with { RepeatStarts = true }; break;
            case ":]": road = road with { RepeatTimes = 2 }; break;
            case ":3]": road = road with { RepeatTimes = 3 }; break;
            case "1[" or "2[":
                ending = [word[0] - '0'];
                road = road with { EndingStarts = true };
                break;
            case "]1" or "]2": road = road with { EndingStops = true }; break;
            case "segno": road = road with { Segno = true }; break;
            case "coda": road = road with { Coda = true }; break;
            case "dc": road = road with { Jump = Jump.DaCapo }; break;
            case "ds": road = road with { Jump = Jump.DalSegno }; break;
            case "fine": road = road with { Fine = true }; break;
            case "tocoda": road = road with { ToCoda = true }; break;
            case "dbl": road = road with { RightBarline = BarlineStyle.Double }; break;
            case "cres": directions.Add(new(at, DirectionKind.Crescendo, "")); break;
            case "dim": directions.Add(new(at, DirectionKind.Diminuendo, "")); break;
            case "end": directions.Add(new(at, DirectionKind.HairpinEnd, "")); break;
            case "R": Add(new Rest { Id = NextId(), Offset = at, Duration = meter.BarLength, Value = NoteValue.Whole, FillsBar = true }); break;
            default:
                if (word.Contains('=')) Setting(word.Split('=', 2)[0], word.Split('=', 2)[1].Replace('_', ' '));
                else Event(word);
                break;
        }
    }

    private void Setting(string name, string value)
    {
        switch (name)
        {
            case "dyn": directions.Add(new(at, DirectionKind.Dynamic, value)); break;
            case "words": directions.Add(new(at, DirectionKind.Words, value)); break;
            case "reh": directions.Add(new(at, DirectionKind.RehearsalMark, value)); break;
            case "clef": clefs.Add(new(at, Enum.Parse<Clef>(value))); break;
            case "key": key = new(int.Parse(value, CultureInfo.InvariantCulture)); break;
            case "meter":
                meter = value switch
                {
                    "C" => new(4, 4, MeterSymbol.Common),
                    "cut" => new(2, 2, MeterSymbol.Cut),
                    _ => new(int.Parse(value.Split('/')[0]), int.Parse(value.Split('/')[1])),
                }; break;
            case "tempo":
                var speed = value.Split('@');
                var unit = speed.Length > 2 ? ValueOf(speed[2]) : NoteValue.Quarter;
                tempos.Add(new(at, speed.Length > 1 ? double.Parse(speed[1], CultureInfo.InvariantCulture) * unit.Duration.ToDouble() : null, speed[0], speed.Length > 1 ? unit : null));
                break;
            default: throw new ArgumentException($"Unknown word {name}.");
        }
    }

    private static NoteValue ValueOf(string text)
    {
        var plain = int.Parse(text.TrimEnd('.'), CultureInfo.InvariantCulture);
        return new(plain == 0 ? -1 : int.Log2(plain), text.Count(c => c == '.'));
    }

    private string NextId() => $"n{bars.Count + 1}-{events.Count + 1}";

    private void Event(string word)
    {
        var parts = word.Split(':');
        var flags = parts[1].TrimStart([.. "0123456789."]);
        var value = ValueOf(parts[1][..^flags.Length]);
        if (inTuplet) value = value with { TupletActual = 3, TupletNormal = 2 };
        var grace = flags.Contains('g') ? Grace.Plain : flags.Contains('G') ? Grace.Slashed : Grace.None;
        var id = NextId();
        var duration = grace == Grace.None ? value.Duration : Beats.Zero;
        var edge = tupletBegins ? TupletEdge.Start : TupletEdge.None;
        tupletBegins = false;
        if (parts[0] == "r")
        {
            Add(new Rest { Id = id, Offset = at, Duration = duration, Value = value, TupletEdge = edge, Fermata = flags.Contains('*') });
            return;
        }

        if (openGlissando is { } from) glissandi.Add(new(from, id));
        openGlissando = flags.Contains('>') ? id : null;
        foreach (var _ in flags.Where(c => c == ')')) slurs.Add(new(openSlurs.Pop(), id));
        foreach (var _ in flags.Where(c => c == '(')) openSlurs.Push(id);
        Add(new Note
        {
            Id = id,
            Offset = at,
            Duration = duration,
            Value = value,
            TupletEdge = edge,
            Pitch = Pitch.Parse(parts[0]),
            Fermata = flags.Contains('*'),
            TieToNext = flags.Contains('~'),
            BreathAfter = flags.Contains('\''),
            Grace = grace,
            CourtesyAccidental = flags.Contains('c'),
            Articulations = (flags.Contains('!') ? Articulations.Staccato : 0) | (flags.Contains('_') ? Articulations.Tenuto : 0) | (flags.Contains('^') ? Articulations.Accent : 0),
        });
    }

    private void Add(ScoreEvent e)
    {
        events.Add(e);
        at += e.Duration;
    }

    private void EndBar()
    {
        if (!pickup) number++;
        if (bars.Count == 0 && clefs.Count == 0) clefs.Add(new(Beats.Zero, Clef.Bass));
        bars.Add(new Bar
        {
            Index = bars.Count,
            Number = pickup ? "" : $"{number}",
            IsPickup = pickup,
            Start = start,
            Length = at,
            Meter = meter,
            Key = key,
            Clefs = [.. clefs],
            Tempos = [.. tempos],
            Directions = [.. directions],
            Events = [.. events],
            Road = road with { Endings = ending },
        });
        if (road.EndingStops) ending = [];
        (start, at, pickup, road) = (start + at, Beats.Zero, false, BarRoad.Straight);
        events.Clear();
        clefs.Clear();
        tempos.Clear();
        directions.Clear();
    }
}
