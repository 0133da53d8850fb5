using System.Globalization;
using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Directions and sounds: dynamics, words, hairpins, tempo, and the signs of the road through the piece.</summary>
internal sealed class DirectionReader(AttributeReader attributes, BarlineReader barlines, ProblemLog log)
{
    private static readonly HashSet<string> TempoWords =
    [
        "grave", "largo", "larghetto", "lento", "adagio", "adagietto", "andante", "andantino", "moderato", "allegretto", "allegro", "vivace", "presto", "prestissimo",
    ];

    private static readonly string[] RoadSounds = ["dacapo", "dalsegno", "tocoda", "fine"];

    /// <summary>The dynamics in an element, joined where several stand together.</summary>
    public static IEnumerable<Direction> Dynamics(Element element, Beats offset)
    {
        var text = Header.Words(string.Concat(element.Children.Select(c => c.Name == "other-dynamics" ? c.Text : c.Name)));
        if (text.Length > 0) yield return new Direction(offset, DirectionKind.Dynamic, text);
    }

    public void Read(Element element, Cursor at)
    {
        var offset = attributes.PlaceOf(element, at);
        var staff = Numbers.Whole(element.TextOf("staff"));
        var marks = element.All("direction-type").SelectMany(t => t.Children).ToList();
        var sound = element.Child("sound");
        var leadsToCoda = sound?.Attribute("tocoda") is not null;
        foreach (var mark in marks) ReadMark(mark, offset, staff, leadsToCoda, at);
        ReadWords(element, marks, sound, offset, staff, at);
        if (sound is not null) ReadRoad(sound, offset);
    }

    /// <summary>A sound that stands alone in a measure.</summary>
    public void ReadSound(Element sound, Cursor at)
    {
        var offset = attributes.PlaceOf(sound, at);
        if (Tempo(sound, at) is { } tempo) at.Bar.Tempos.Add(new TempoText(offset, tempo, "", null));
        ReadRoad(sound, offset);
    }

    private void ReadMark(Element mark, Beats offset, int? staff, bool leadsToCoda, Cursor at)
    {
        switch (mark.Name)
        {
            case "dynamics": foreach (var d in Dynamics(mark, offset)) at.Bar.Directions.Add((staff, d)); break;
            case "wedge" when Hairpin(mark) is { } kind: at.Bar.Directions.Add((staff, new Direction(offset, kind, ""))); break;
            case "rehearsal": at.Bar.Directions.Add((staff, new Direction(offset, DirectionKind.RehearsalMark, Header.Words(mark.Text)))); break;
            case "segno": barlines.MarkSegno(offset); break;
            case "coda" when !leadsToCoda: barlines.MarkCoda(offset); break;
            case "octave-shift" when !mark.Says("type", "stop"): log.Note(at.Place, "An octave line (8va) is left out; the notes keep their sounding pitch."); break;
        }
    }

    private static DirectionKind? Hairpin(Element wedge) => wedge.Attribute("type") switch
    {
        "crescendo" => DirectionKind.Crescendo,
        "diminuendo" => DirectionKind.Diminuendo,
        "stop" => DirectionKind.HairpinEnd,
        _ => null,
    };

    private void ReadWords(Element element, List<Element> marks, Element? sound, Beats offset, int? staff, Cursor at)
    {
        var words = Header.Words(string.Join(" ", marks.Where(m => m.Name == "words").Select(m => m.Text)));
        var metronome = marks.Find(m => m.Name == "metronome");
        var unit = metronome is null ? null : Unit(metronome);
        var tempo = (sound is null ? null : Tempo(sound, at)) ?? (metronome is null ? null : PerMinute(metronome, unit, at));
        if (words.Length > 0 && element.Attribute("id")?.StartsWith(DirectionWriter.SectionId, StringComparison.Ordinal) == true)
        {
            at.Bar.Section = words;
            return;
        }

        if (tempo is not null || unit is not null || (words.Length > 0 && (element.Says("directive", "yes") || IsTempoWord(words))))
            at.Bar.Tempos.Add(new TempoText(offset, tempo, words, tempo is null ? null : unit));
        else if (words.Length > 0 && !IsRoad(words, sound, offset))
            at.Bar.Directions.Add((staff, new Direction(offset, DirectionKind.Words, words)));
    }

    private static bool IsTempoWord(string words) => TempoWords.Contains(words.Split(' ', ',', '.')[0].ToLowerInvariant());

    // Words such as "D.S. al Coda" become signs of the road, which the sheet words anew.
    private bool IsRoad(string words, Element? sound, Beats offset)
    {
        if (sound is not null && RoadSounds.Any(a => sound.Attribute(a) is not null)) return true;
        var plain = words.ToLowerInvariant().Replace(".", "", StringComparison.Ordinal).Replace(" ", "", StringComparison.Ordinal);
        var name = plain.StartsWith("dc", StringComparison.Ordinal) || plain.StartsWith("dacapo", StringComparison.Ordinal) ? "dacapo"
            : plain.StartsWith("dalsegno", StringComparison.Ordinal) || plain is "ds" || plain.StartsWith("dsal", StringComparison.Ordinal) ? "dalsegno"
            : plain is "tocoda" or "alcoda" ? "tocoda"
            : plain is "fine" ? "fine"
            : null;
        if (name is null) return false;
        barlines.MarkRoad(name, offset);
        return true;
    }

    private void ReadRoad(Element sound, Beats offset)
    {
        foreach (var name in (ReadOnlySpan<string>)["dacapo", "dalsegno", "tocoda", "fine", "segno", "coda", "forward-repeat"])
        {
            if (sound.Attribute(name) is { } value && value != "no") barlines.MarkRoad(name, offset);
        }
    }

    private double? Tempo(Element sound, Cursor at)
    {
        if (sound.Attribute("tempo") is not { } text) return null;
        if (Numbers.Decimal(text) is >= 1 and <= 1000 && Numbers.Decimal(text) is { } value) return (double)value;
        log.Warn(at.Place, "A tempo is not between 1 and 1000 quarter notes a minute and is left out.", detail: $"'{Header.Words(text)}'");
        return null;
    }

    private static NoteValue? Unit(Element metronome)
    {
        if (Names.BaseOf(metronome.TextOf("beat-unit")) is not { } unit) return null;
        return new NoteValue(unit, Math.Min(3, metronome.All("beat-unit-dot").Count()));
    }

    private double? PerMinute(Element metronome, NoteValue? unit, Cursor at)
    {
        var text = metronome.TextOf("per-minute");
        var digits = new string([.. (text ?? "").SkipWhile(c => !char.IsAsciiDigit(c)).TakeWhile(c => char.IsAsciiDigit(c) || c == '.')]);
        if (unit is not { } u || !double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var count))
        {
            log.Note(at.Place, "A metronome mark without a number is not followed.", "Give the tempo yourself where it matters.");
            return null;
        }

        var quarters = count * u.Duration.ToDouble();
        if (quarters is >= 1 and <= 1000) return quarters;
        log.Warn(at.Place, "A tempo is not between 1 and 1000 quarter notes a minute and is left out.", detail: $"'{Header.Words(text)}'");
        return null;
    }
}
