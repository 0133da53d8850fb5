using System.Numerics;
using System.Xml.Linq;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Writes the measures of one printed part out of its voices.</summary>
internal sealed class PartWriter
{
    private const int MostDivisions = 10_000_000;

    private readonly List<Part> voices;
    private readonly List<NoteWriter> writers;
    private readonly Part lead;
    private readonly int divisions;
    private Meter? meter;
    private (KeySignature Key, Interval Transposition)? key;
    private Clef clef = Clef.Bass;

    public PartWriter(List<Part> voices, IReadOnlyDictionary<string, NoteMark> marks, HashSet<string> ids)
    {
        this.voices = voices;
        lead = voices[0];
        divisions = Divisions(voices);
        writers = [.. voices.Select(v => new NoteWriter(v, marks, ids, Ticks))];
    }

    public IEnumerable<XElement> Measures() => lead.Bars.Select(Measure);

    /// <summary>What is added to concert pitch under a clef to get what is written.</summary>
    private Interval TranspositionUnder(Clef c) => c == Clef.TrebleBb ? Interval.MajorNinth : lead.Transposition;

    private XElement Measure(Bar bar)
    {
        var measure = new XElement("measure", new XAttribute("number", MusicXmlWriter.Clean(bar.Number)));
        if (bar.Length < bar.Meter.BarLength) measure.Add(new XAttribute("implicit", "yes"));
        if (bar.Section.Length > 0 && bar.Index > 0) measure.Add(new XElement("print", new XAttribute("new-system", "yes")));
        measure.Add(BarlineWriter.Left(bar));
        measure.Add(AttributesAtStart(bar));
        measure.Add(BarlineWriter.Signs(bar));
        WriteLead(measure, bar);
        for (var v = 1; v < voices.Count && bar.Index < voices[v].Bars.Length; v++)
        {
            measure.Add(new XElement("backup", new XElement("duration", Ticks(bar.Length))));
            writers[v].BeginBar(voices[v].Bars[bar.Index], WrittenKey(bar));
            foreach (var e in voices[v].Bars[bar.Index].Events) measure.Add(writers[v].Note(e, TranspositionUnder(clef)));
        }

        measure.Add(BarlineWriter.Jumps(lead, bar));
        measure.Add(BarlineWriter.Right(bar));
        return measure;
    }

    private KeySignature WrittenKey(Bar bar) => bar.Key.Transposed(TranspositionUnder(clef));

    private void WriteLead(XElement measure, Bar bar)
    {
        var directions = new Queue<(Beats Offset, XElement Element)>(DirectionWriter.Of(bar)
            .Concat(bar.Chords.Select(c => (c.Offset, HarmonyWriter.Of(c.Chord, TranspositionUnder(clef))))).OrderBy(d => d.Offset));
        var clefs = new Queue<ClefMark>(bar.Clefs.Where(c => c.Offset > Beats.Zero));
        writers[0].BeginBar(bar, WrittenKey(bar));
        foreach (var e in bar.Events)
        {
            while (clefs.TryPeek(out var c) && c.Offset <= e.Offset) measure.Add(ClefChange(clefs.Dequeue(), bar));
            while (directions.TryPeek(out var d) && (d.Offset <= e.Offset || d.Offset < e.Offset + e.Duration))
                measure.Add(DirectionWriter.At(directions.Dequeue(), e.Offset, Ticks));
            measure.Add(writers[0].Note(e, TranspositionUnder(clef)));
            while (clefs.TryPeek(out var c) && c.Offset < e.Offset + e.Duration) measure.Add(Behind(e, clefs.Dequeue(), bar));
        }

        foreach (var c in clefs) measure.Add(ClefChange(c, bar));
        foreach (var d in directions) measure.Add(DirectionWriter.At(d, bar.Length, Ticks));
    }

    private XElement? AttributesAtStart(Bar bar)
    {
        foreach (var mark in bar.Clefs.Where(c => c.Offset == Beats.Zero)) clef = mark.Clef;
        var transposition = TranspositionUnder(clef);
        var attributes = new XElement("attributes");
        if (bar.Index == 0) attributes.Add(new XElement("divisions", divisions));
        if (key is not { } k || k.Key != bar.Key || k.Transposition != transposition) attributes.Add(Key(bar.Key.Transposed(transposition)));
        if (bar.Meter != meter) attributes.Add(Time(bar.Meter));
        if (bar.Clefs.Any(c => c.Offset == Beats.Zero)) attributes.Add(ClefElement(clef));
        if (transposition != (key?.Transposition ?? Interval.Unison)) attributes.Add(Transpose(transposition));
        (key, meter) = ((bar.Key, transposition), bar.Meter);
        return attributes.HasElements ? attributes : null;
    }

    private XElement ClefChange(ClefMark mark, Bar bar)
    {
        var before = TranspositionUnder(clef);
        clef = mark.Clef;
        var after = TranspositionUnder(clef);
        key = (bar.Key, after);
        return before == after
            ? new XElement("attributes", ClefElement(clef))
            : new XElement("attributes", Key(bar.Key.Transposed(after)), ClefElement(clef), Transpose(after));
    }

    // A clef that begins while a note of this voice sounds, for the sake of another voice: back to it and forth again.
    private object[] Behind(ScoreEvent e, ClefMark mark, Bar bar)
    {
        var way = new XElement("duration", Ticks(e.Offset + e.Duration - mark.Offset));
        return [new XElement("backup", way), ClefChange(mark, bar), new XElement("forward", way)];
    }

    private static XElement Key(KeySignature written) => new("key",
        new XElement("fifths", written.Fifths), new XElement("mode", written.Mode == KeyMode.Minor ? "minor" : "major"));

    private static XElement Time(Meter meter) => new("time",
        meter.Symbol == MeterSymbol.Numbers ? null : new XAttribute("symbol", meter.Symbol == MeterSymbol.Common ? "common" : "cut"),
        new XElement("beats", meter.Groups.IsEmpty ? $"{meter.Beats}" : string.Join('+', meter.Groups)),
        new XElement("beat-type", meter.BeatUnit));

    private static XElement ClefElement(Clef c)
    {
        var (_, sign, line, octave) = Array.Find(Names.Clefs, n => n.Clef == c);
        return new XElement("clef", new XElement("sign", sign), new XElement("line", line), octave == 0 ? null : new XElement("clef-octave-change", octave));
    }

    // The element goes from written to sounding pitch, the other way round; octaves are counted apart.
    private static XElement Transpose(Interval concertToWritten)
    {
        var octaves = -concertToWritten.Steps / 7;
        return new XElement("transpose",
            new XElement("diatonic", -concertToWritten.Steps - (7 * octaves)),
            new XElement("chromatic", -concertToWritten.Semitones - (12 * octaves)),
            octaves == 0 ? null : new XElement("octave-change", octaves));
    }

    private BigInteger Ticks(Beats b) => ((2 * b.Numerator * divisions) + b.Denominator) / (2 * b.Denominator);

    private static int Divisions(List<Part> voices)
    {
        var common = BigInteger.One;
        foreach (var bar in voices.SelectMany(v => v.Bars))
        {
            var places = bar.Events.SelectMany(e => new[] { e.Offset, e.Duration })
                .Concat(bar.Directions.Select(d => d.Offset)).Concat(bar.Chords.Select(c => c.Offset)).Concat(bar.Clefs.Select(c => c.Offset)).Concat(bar.Tempos.Select(t => t.Offset)).Append(bar.Length);
            foreach (var d in places.Select(p => p.Denominator))
            {
                var next = common / BigInteger.GreatestCommonDivisor(common, d) * d;
                if (next <= MostDivisions) common = next;
            }
        }

        return (int)common;
    }
}
