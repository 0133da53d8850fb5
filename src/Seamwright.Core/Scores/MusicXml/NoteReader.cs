using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>One note element: its pitch, its length and shape, and the marks that hang on it.</summary>
internal sealed class NoteReader(AttributeReader attributes, ProblemLog log)
{
    // Far more than any chord has: it keeps joining them cheap on a hostile file.
    private const int MostSpansOfAChord = 64;

    private static readonly HashSet<string> Known =
    [
        "grace", "cue", "chord", "pitch", "unpitched", "rest", "duration", "tie", "instrument", "footnote", "level", "voice", "type", "dot",
        "accidental", "time-modification", "stem", "notehead", "notehead-text", "staff", "beam", "notations", "lyric", "play", "listen",
    ];

    /// <summary>Reads a note that is no further note of a chord.</summary>
    /// <returns>Null where it has no length; the reason is logged.</returns>
    public RawNote? Read(Element element, RawBar bar, Cursor at)
    {
        foreach (var odd in element.Children.Where(c => !Known.Contains(c.Name)))
            log.Note(at.Place, $"An unknown element <{Header.Words(odd.Name)}> is skipped.", detail: $"line {odd.Line}");
        var grace = element.Child("grace");
        var shape = Shape(element, at);
        var measureRest = element.Child("rest")?.Says("measure", "yes") ?? false;
        if (Length(element, shape, measureRest, grace is not null, at) is not { } duration) return null;
        var silent = Silence(element, at);
        if (grace is not null && (silent || element.Has("rest"))) return null;
        var written = silent || element.Has("rest") ? null : Written(element, at);
        if (written is null && grace is not null) return null;
        var note = new RawNote
        {
            Offset = at.Offset,
            Duration = duration,
            Staff = Numbers.Whole(element.TextOf("staff")) ?? 1,
            Written = written,
            Pitch = written - attributes.Transposition,
            Value = grace is not null ? shape ?? NoteValue.Eighth : shape is { } s && Shapes.IsNear(s, duration) ? s : null,
            MeasureRest = measureRest,
            FileId = element.Attribute("id"),
            Grace = grace is null ? Grace.None : grace.Says("slash", "yes") ? Grace.Slashed : Grace.Plain,
        };
        NotationReader.Read(element, note, bar, at, log);
        return note;
    }

    /// <summary>Reads a further note of a chord: a trombone plays one note, and the top one is taken for the melody.</summary>
    public void ReadChordNote(Element element, RawNote chord, Cursor at)
    {
        if (element.Has("cue") || element.Has("unpitched") || chord.Written is not { } kept) return;
        var place = at.At(chord.Offset);
        if (Written(element, at) is not { } written) return;
        var top = written > kept;
        log.Warn(place, "A chord stands here; a trombone plays one note, so the top one is kept.", "Choose another voice, or write the divided parts out.",
            $"{(top ? written : kept)} stays, {(top ? kept : written)} goes");
        var spare = new RawNote { Offset = chord.Offset, Duration = chord.Duration, Staff = chord.Staff };
        NotationReader.Read(element, spare, null, at, log);
        chord.Articulations |= spare.Articulations;
        chord.Fermata |= spare.Fermata;
        chord.BreathAfter |= spare.BreathAfter;
        if (chord.Spans.Count < MostSpansOfAChord) chord.Spans.AddRange(spare.Spans.Except(chord.Spans));
        if (!top) return;
        (chord.Written, chord.Pitch) = (written, written - attributes.Transposition);
        (chord.Tied, chord.AccidentalShown) = (spare.Tied, spare.AccidentalShown);
    }

    private Beats? Length(Element element, NoteValue? shape, bool measureRest, bool grace, Cursor at)
    {
        if (grace) return Beats.Zero;
        var ticks = attributes.HasDivisions || shape is null ? attributes.Duration(element) : null;
        if (!attributes.HasDivisions)
            log.Warn(new Place(at.Place.Part), "The file does not say its divisions of a quarter note; written shapes are used, else 1.");
        if (ticks is not { } told || told <= Beats.Zero || told > Cursor.Furthest)
        {
            var found = shape?.Duration ?? (measureRest ? at.Bar.Meter.BarLength : null);
            if (attributes.HasDivisions || found is null)
                log.Warn(at.Place, found is null ? "A note has neither a usable duration nor a shape and is left out." : "A note has no usable duration; its written shape is used.", detail: $"line {element.Line}");
            return found;
        }

        return Agreed(told, shape, measureRest, at);
    }

    // Durations are whole ticks, so a tuplet's are rounded where the divisions do not hold it: the shape is then the exact one.
    private Beats Agreed(Beats told, NoteValue? shape, bool measureRest, Cursor at)
    {
        if (shape is not { } s || measureRest || s.Duration == told) return told;
        var off = told - s.Duration;
        if (off < attributes.Tick && -off < attributes.Tick) return s.Duration;
        if (!Shapes.IsNear(s, told) && !(s.Base == 0 && told == at.Bar.Meter.BarLength))
            log.Note(at.Place, "A duration and its written shape differ; the duration is used.", detail: $"{told} against {s.Duration} quarter notes");
        return told;
    }

    private NoteValue? Shape(Element element, Cursor at)
    {
        if (element.TextOf("type") is not { } type) return null;
        var dots = element.All("dot").Count();
        if (Names.BaseOf(type) is not { } shape || dots > 3)
        {
            log.Note(at.Place, "A note shape cannot be drawn here; the duration is used.", detail: $"'{Header.Words(type)}' with {dots} dots");
            return null;
        }

        if (element.Child("time-modification") is not { } change) return new NoteValue(shape, dots);
        var actual = Numbers.Whole(change.TextOf("actual-notes"));
        var normal = Numbers.Whole(change.TextOf("normal-notes"));
        if (actual is >= 1 and <= 64 && normal is >= 1 and <= 64)
            return actual == normal ? new NoteValue(shape, dots) : new NoteValue(shape, dots, actual.Value, normal.Value);
        log.Warn(at.Place, "A tuplet's numbers cannot be used; the duration is.");
        return null;
    }

    private bool Silence(Element element, Cursor at)
    {
        var reason = element.Has("cue") ? "A cue note is not played here; a rest stands for it."
            : element.Has("unpitched") ? "A note without pitch (percussion) cannot be played; a rest stands for it."
            : element.Has("pitch") || element.Has("rest") ? null
            : "A note without pitch or rest is read as a rest.";
        if (reason is not null) log.Warn(at.Place, reason, detail: $"line {element.Line}");
        return reason is not null;
    }

    private Pitch? Written(Element element, Cursor at)
    {
        var pitch = element.Child("pitch");
        var step = pitch?.TextOf("step") is { Length: 1 } letter && letter[0] is >= 'A' and <= 'G' ? Enum.Parse<Step>(letter) : (Step?)null;
        var octave = Numbers.Whole(pitch?.TextOf("octave"));
        var alter = Numbers.Decimal(pitch?.TextOf("alter") ?? "0");
        if (step is not { } s || octave is not (>= -1 and <= 9) || alter is not (>= -12 and <= 12))
        {
            log.Warn(at.Place, "A pitch cannot be read; a rest stands for it.", detail: $"line {element.Line}");
            return null;
        }

        return Checked(Spelled(s, alter.Value, octave.Value, at), at);
    }

    private Pitch? Spelled(Step step, decimal alter, int octave, Cursor at)
    {
        var whole = (int)decimal.Round(alter, MidpointRounding.ToEven);
        if (whole != alter) log.Warn(at.Place, "A microtone is taken as the nearest semitone.", detail: $"{step} altered by {alter}");
        if (Math.Abs(whole) <= 2) return new Pitch(step, whole, octave);
        var midi = new Pitch(step, 0, octave).Midi + whole;
        log.Note(at.Place, "More than a double accidental is spelled anew.");
        return midi is >= 0 and <= 127 ? Pitch.FromMidi(midi) : null;
    }

    private Pitch? Checked(Pitch? pitch, Cursor at)
    {
        if (pitch is { Midi: >= 0 and <= 127 } && (pitch - attributes.Transposition) is { Midi: >= 0 and <= 127, Octave: >= -1 and <= 9 }) return pitch;
        log.Warn(at.Place, "A pitch lies outside anything that can be played; a rest stands for it.");
        return null;
    }
}
