using System.Numerics;
using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Divisions, meter, key, clefs and transposition: what is in force while a part is read.</summary>
internal sealed class AttributeReader(RawPart part, ProblemLog log)
{
    // Two bounds that keep exact sums of durations cheap even for a hostile file.
    private const int MostDivisions = 10_000_000;
    private const int MostChangesOfDivisions = 32;

    private readonly HashSet<int> divisionsSeen = [];
    private int divisions;
    private Meter meter = Meter.CommonTime;
    private KeySignature writtenKey;
    private bool senzaMisura;
    private bool meterSeen;
    private bool transpositionSeen;
    private Beats? lateChange;
    private RawBar bar = null!;

    /// <summary>Concert to written pitch.</summary>
    public Interval Transposition { get; private set; } = Interval.Unison;

    /// <summary>Whether the file has said what its durations mean.</summary>
    public bool HasDivisions => divisions > 0;

    /// <summary>The shortest duration the file can write.</summary>
    public Beats Tick => new(1, Math.Max(1, divisions));

    public Beats? Duration(Element element) => Numbers.Duration(element.TextOf("duration"), Math.Max(1, divisions));

    /// <summary>Where something that takes no time stands: at the cursor, moved by its own offset, never outside any bar.</summary>
    public Beats PlaceOf(Element element, Cursor at)
    {
        var offset = at.Offset + (Numbers.Duration(element.TextOf("offset"), Math.Max(1, divisions)) ?? Beats.Zero);
        return offset < Beats.Zero ? Beats.Zero : offset > Cursor.Furthest ? Cursor.Furthest : offset;
    }

    public void Begin(RawBar next)
    {
        bar = next;
        lateChange = null;
        transpositionSeen |= bar.Index > 0;
        Apply();
    }

    public void End(Cursor at)
    {
        if (lateChange is { } offset && offset < bar.Extent)
            log.Warn(at.At(offset), "A meter or key changes inside the bar; it is taken from the next bar on.");
    }

    public void Read(Element attributes, Cursor at)
    {
        var before = (meter, senzaMisura, writtenKey.Transposed(-Transposition));
        foreach (var child in attributes.All("transpose").Take(1)) ReadTransposition(child, at);
        foreach (var child in attributes.Children)
        {
            switch (child.Name)
            {
                case "divisions": ReadDivisions(child, at); break;
                case "key" when child.Attribute("number") is null or "1": ReadKey(child, at); break;
                case "time" when child.Attribute("number") is null or "1": ReadTime(child, at); break;
                case "staves": ReadStaves(child); break;
                case "clef": ReadClef(child, at); break;
                case "measure-style": ReadStyle(child, at); break;
            }
        }

        if (at.Offset == Beats.Zero) Apply();
        else if (before != (meter, senzaMisura, writtenKey.Transposed(-Transposition))) lateChange = at.Offset;
    }

    private void Apply()
    {
        bar.Meter = meter;
        bar.SenzaMisura = senzaMisura;
        bar.MeterUnknown = !meterSeen;
        bar.Key = writtenKey.Transposed(-Transposition);
        bar.WrittenKey = writtenKey;
    }

    private void ReadDivisions(Element element, Cursor at)
    {
        var value = Numbers.Decimal(element.Text);
        var ok = value is > 0 and <= MostDivisions && value == decimal.Truncate(value.Value);
        if (ok && (divisionsSeen.Count < MostChangesOfDivisions || divisionsSeen.Contains((int)value!)))
        {
            divisions = (int)value!;
            divisionsSeen.Add(divisions);
            return;
        }

        log.Warn(at.Place, "The divisions of a quarter note cannot be used; those before them stay.", detail: $"'{Header.Words(element.Text)}'");
    }

    private void ReadKey(Element element, Cursor at)
    {
        if (element.TextOf("fifths") is not { } text)
        {
            log.Warn(at.Place, "A key signature that is not traditional is left out; accidentals are written instead.");
            return;
        }

        if (Numbers.Whole(text) is not (>= -7 and <= 7) || Numbers.Whole(text) is not { } fifths)
        {
            log.Warn(at.Place, "A key signature is not between 7 flats and 7 sharps and is left out.", detail: $"'{Header.Words(text)}'");
            return;
        }

        writtenKey = new KeySignature(fifths, element.TextOf("mode") is "minor" or "aeolian" ? KeyMode.Minor : KeyMode.Major);
    }

    private void ReadTime(Element element, Cursor at)
    {
        if (element.Has("senza-misura"))
        {
            log.Warn(at.Place, "From here there is no meter; each bar is as long as what it holds.");
            senzaMisura = meterSeen = true;
            return;
        }

        if (ReadMeter(element) is not { } read)
        {
            log.Warn(at.Place, "A time signature cannot be used; the one before it stays.", "The upper number lies between 1 and 64, the lower is a power of two up to 64.");
            return;
        }

        if (element.All("beats").Count() > 1) log.Note(at.Place, "A compound of several time signatures is written as one.");
        (senzaMisura, meterSeen, meter) = (false, true, read);
    }

    private static Meter? ReadMeter(Element element)
    {
        var pairs = element.All("beats").Zip(element.All("beat-type")).Select(p => (Terms: Terms(p.First.Text), Unit: Numbers.Whole(p.Second.Text))).ToList();
        if (pairs.Count is 0 or > 64 || pairs.Any(p => p.Terms is null || p.Unit is not (>= 1 and <= 64) || !BitOperations.IsPow2(p.Unit.Value))) return null;
        var unit = pairs.Max(p => p.Unit!.Value);
        var groups = pairs.SelectMany(p => p.Terms!.Select(t => t * unit / p.Unit!.Value)).ToList();
        var beats = groups.Sum();
        var symbol = element.Attribute("symbol") switch
        {
            "common" when (beats, unit) == (4, 4) => MeterSymbol.Common,
            "cut" when (beats, unit) == (2, 2) => MeterSymbol.Cut,
            _ => MeterSymbol.Numbers,
        };
        return beats is >= 1 and <= 64 ? new Meter(beats, unit, symbol).Grouped(groups) : null;
    }

    private static List<int>? Terms(string text)
    {
        var terms = text.Split('+').Select(t => Numbers.Whole(t)).ToList();
        return terms.Count <= 16 && terms.All(t => t is >= 1 and <= 64) ? terms.ConvertAll(t => t!.Value) : null;
    }

    private void ReadTransposition(Element element, Cursor at)
    {
        var octaves = Numbers.Whole(element.TextOf("octave-change") ?? "0");
        if (Numbers.Decimal(element.TextOf("chromatic")) is not { } exact || octaves is not (>= -5 and <= 5) || Math.Abs(exact) > 60 || exact != decimal.Truncate(exact))
        {
            log.Warn(at.Place, "A transposition cannot be used; the part is read as if it stood at its written pitch.");
            return;
        }

        var chromatic = (int)exact;
        var diatonic = Numbers.Whole(element.TextOf("diatonic")) is { } d and >= -35 and <= 35 ? d : UsualSteps(chromatic);
        if (element.Has("double")) log.Note(at.Place, "A doubling in octaves is left out.");
        var written = -new Interval(diatonic + (7 * octaves.Value), chromatic + (12 * octaves.Value));
        if (transpositionSeen && written != Transposition) log.Note(at.Place, "The part changes its transposition; pitches follow it.");
        if (!transpositionSeen) part.Transposition = written;
        transpositionSeen = true;
        Transposition = written;
    }

    // The letters a number of semitones usually spans, where a file leaves them out: 2 is a major second, 3 a minor third.
    private static int UsualSteps(int chromatic)
    {
        ReadOnlySpan<int> steps = [0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6];
        var size = Math.Abs(chromatic);
        return Math.Sign(chromatic) * ((size / 12 * 7) + steps[size % 12]);
    }

    private void ReadStaves(Element element)
    {
        if (Numbers.Whole(element.Text) is not { } staves) return;
        if (staves > 1 && part.Staves == 1)
            log.Warn(new Place(part.Name), "The part has more than one staff; each of its voices is read as a line of its own.", "Choose the voice that the trombone plays.");
        part.Staves = Math.Max(part.Staves, staves);
    }

    private void ReadClef(Element element, Cursor at)
    {
        var staff = Numbers.Whole(element.Attribute("number")) ?? 1;
        var clef = ClefOf(element, at);
        if (clef is { } known) bar.Clefs.Add((staff, new ClefMark(at.Offset, known)));
    }

    private Clef? ClefOf(Element element, Cursor at)
    {
        var sign = element.TextOf("sign") ?? "";
        var line = Numbers.Whole(element.TextOf("line")) ?? (sign switch { "F" => 4, "C" => 3, _ => 2 });
        var octave = Numbers.Whole(element.TextOf("clef-octave-change")) ?? 0;
        foreach (var known in Names.Clefs)
        {
            if ((known.Sign, known.Line, known.Octave) == (sign, line, octave))
                return known.Clef == Clef.Treble && Transposition == Interval.MajorNinth ? Clef.TrebleBb : known.Clef;
        }

        Clef? nearest = sign switch { "F" => Clef.Bass, "C" when line > 3 => Clef.Tenor, "C" => Clef.Alto, "G" => Clef.Treble, _ => null };
        if (nearest is { } taken) log.Note(at.Place, $"The clef {sign} on line {line} (octaves {octave:+0;-0;0}) is shown as the {Word(taken)} clef.");
        else log.Warn(at.Place, $"The clef '{Header.Words(sign)}' has no pitch a trombone could read and is left out.");
        return nearest;
    }

    private static string Word(Clef clef) => clef.ToString().ToLowerInvariant();

    private void ReadStyle(Element element, Cursor at)
    {
        if (element.Has("slash") || element.Has("beat-repeat") || element.Has("measure-repeat"))
            log.Warn(at.Place, "Slashes and bar-repeat signs are not written out; the bar is read as the file holds it.");
    }
}
