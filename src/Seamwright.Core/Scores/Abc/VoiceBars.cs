using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>The bars of one voice as they grow.</summary>
internal sealed class VoiceBars
{
    private readonly ReadLimits limits;
    private readonly ProblemLog log;
    private readonly RoadSigns signs = new();
    private AbcKey key = AbcKey.None;
    private Meter? meter;
    private int startsTimes;

    public VoiceBars(RawPart part, ReadLimits limits, ProblemLog log)
    {
        (Part, this.limits, this.log) = (part, limits, log);
        Begin();
    }

    public RawPart Part { get; }

    /// <summary>The bar that is being filled; always the last.</summary>
    public RawBar Bar => Part.Bars[^1];

    /// <summary>Where the next thing goes.</summary>
    public Beats Offset { get; private set; } = Beats.Zero;

    /// <summary>From letters to sound.</summary>
    public Interval ToSound { get; set; } = Interval.Unison;

    /// <summary>From sound to print, for the key as it stands on the sheet.</summary>
    public Interval ToWritten { get; set; } = Interval.Unison;

    public AbcKey Key
    {
        get => key;
        set
        {
            key = value;
            Apply();
        }
    }

    /// <summary>Null for free meter.</summary>
    public Meter? Meter
    {
        get => meter;
        set
        {
            meter = value;
            Apply();
        }
    }

    /// <summary>What one whole bar lasts; in free meter a whole note.</summary>
    public Beats Whole => (meter ?? Scores.Meter.CommonTime).BarLength;

    public void Mark(RoadSign sign) => signs.Add(Bar, Offset, sign);

    public void Say(DirectionKind kind, string text) => Bar.Directions.Add((null, new Direction(Offset, kind, text)));

    /// <summary>Puts a note or rest into the bar.</summary>
    public void Add(RawNote note)
    {
        if (!Bar.Notes.TryGetValue("1", out var notes)) Bar.Notes["1"] = notes = [];
        notes.Add(note);
        if (Part.Voices.Count == 0) Part.Voices.Add("1");
        Offset += note.Duration;
        Bar.Extent = Offset;
    }

    /// <summary>Whether so much more fits into any bar.</summary>
    public bool Fits(Beats length) => Offset + length <= Cursor.Furthest;

    /// <summary>A bar line; where the bar holds nothing yet, it is another sign on the line before.</summary>
    public void End(BarSymbol symbol, Scan scan)
    {
        if (Bar.Extent > Beats.Zero)
        {
            Close(Bar, symbol);
            Begin();
        }
        else if (Part.Bars.Count > 1)
        {
            Close(Part.Bars[^2], symbol);
        }

        if (symbol.Starts == 0) return;
        Bar.Road = Bar.Road with { RepeatStarts = true };
        startsTimes = symbol.Starts;
        Bar.InText!.Mark(Beats.Zero, scan.Line, scan.Column);
    }

    /// <summary>An ending bracket begins at the left edge of the bar.</summary>
    public void BeginEnding(List<int> numbers)
    {
        Bar.Road = Bar.Road with { EndingStarts = true };
        Bar.EndingNumbers = numbers;
    }

    /// <summary>The end of the tune: bar lengths, endings, signs and numbers.</summary>
    public void Finish()
    {
        if (Bar.Extent == Beats.Zero) Part.Bars.RemoveAt(Part.Bars.Count - 1);
        if (Part.Bars.Count == 0) return;
        signs.Settle(Part);
        Endings.Close(Part, log);
        BarLengths.Settle(Part, log);
        Number();
    }

    private void Begin()
    {
        if (Part.Bars.Count >= limits.MostBars) throw new LimitException($"holds more than {limits.MostBars} bars in one voice.");
        Part.Bars.Add(new RawBar { Index = Part.Bars.Count, Number = "", Implicit = false, InText = new TextPlaces() });
        Offset = Beats.Zero;
        Apply();
    }

    // A change in the middle of a bar is printed from the next one on.
    private void Apply()
    {
        if (Part.Bars.Count == 0 || Bar.Extent > Beats.Zero) return;
        Bar.Meter = meter ?? Scores.Meter.CommonTime;
        Bar.SenzaMisura = meter is null;
        Bar.Key = key.Signature.Transposed(ToSound);
        Bar.WrittenKey = Bar.Key.Transposed(ToWritten);
    }

    private void Close(RawBar bar, BarSymbol symbol)
    {
        var road = bar.Road;
        if (symbol.Ends > 0)
        {
            road = road with { RepeatTimes = Math.Max(symbol.Ends, startsTimes), RightBarline = BarlineStyle.Regular };
            startsTimes = 0;
        }
        else if (symbol.Style != BarlineStyle.Regular && road.RepeatTimes == 0)
        {
            road = road with { RightBarline = symbol.Style };
        }

        bar.Road = road with { EndingStops = road.EndingStops || symbol.Ends > 0 || symbol.Starts > 0 || symbol.Style != BarlineStyle.Regular };
    }

    // Full bars count; an upbeat at the beginning is 0, and the rest of a bar that a repeat divides shares its number.
    private void Number()
    {
        var number = 0;
        for (var i = 0; i < Part.Bars.Count; i++)
        {
            var bar = Part.Bars[i];
            var isRest = i > 0 && bar.IsPickup && Part.Bars[i - 1].IsPickup && Part.Bars[i - 1].Length + bar.Length == bar.Meter.BarLength;
            if (!(isRest && i > 1) && !(i == 0 && bar.IsPickup)) number++;
            bar.Number = $"{number}";
        }
    }
}
