using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.MusicXml;

/// <summary>Walks through the measures of one part and sorts what it meets into voices, bar by bar.</summary>
internal sealed class PartReader
{
    private static readonly HashSet<string> Silent = ["print", "listening", "grouping", "link", "bookmark"];

    private readonly PartSource source;
    private readonly ReadLimits limits;
    private readonly ProblemLog log;
    private readonly RawPart part;
    private readonly AttributeReader attributes;
    private readonly NoteReader notes;
    private readonly DirectionReader directions;
    private readonly HarmonyReader harmonies;
    private readonly BarlineReader barlines = new();
    private RawNote? lastNote;

    public PartReader(PartSource source, ReadLimits limits, ProblemLog log)
    {
        this.source = source;
        this.limits = limits;
        this.log = log;
        part = new RawPart(source.Id, source.Name);
        attributes = new AttributeReader(part, log);
        notes = new NoteReader(attributes, log);
        directions = new DirectionReader(attributes, barlines, log);
        harmonies = new HarmonyReader(attributes, log);
    }

    public RawPart Read()
    {
        foreach (var measure in source.Measures) ReadBar(measure);
        barlines.Finish(part, log);
        BarLengths.Settle(part, log);
        return part;
    }

    private void ReadBar(MeasureSource measure)
    {
        var index = part.Bars.Count;
        var bar = new RawBar { Index = index, Number = measure.Number, Implicit = measure.Implicit };
        var at = new Cursor(part.Name, bar);
        part.Bars.Add(bar);
        attributes.Begin(bar);
        barlines.Begin(part);
        lastNote = null;
        foreach (var element in measure.Content) ReadElement(element, bar, at);
        attributes.End(at);
        barlines.End(part);
    }

    private void ReadElement(Element element, RawBar bar, Cursor at)
    {
        switch (element.Name)
        {
            case "note": ReadNote(element, bar, at); break;
            case "backup": Move(element, at, -1); break;
            case "forward": Move(element, at, 1); break;
            case "attributes": attributes.Read(element, at); break;
            case "direction": directions.Read(element, at); break;
            case "sound": directions.ReadSound(element, at); break;
            case "barline": barlines.Read(element, part, at, log); break;
            case "harmony": harmonies.Read(element, at); break;
            case "figured-bass": log.Note(new Place(part.Name), "Figured bass is left out."); break;
            default:
                if (!Silent.Contains(element.Name)) log.Note(at.Place, $"An unknown element <{Header.Words(element.Name)}> is skipped.", detail: $"line {element.Line}");
                break;
        }
    }

    private void Move(Element element, Cursor at, int sign)
    {
        if (attributes.Duration(element) is not { } duration || duration <= Beats.Zero)
        {
            log.Warn(at.Place, $"A <{element.Name}> has no usable duration and is skipped.", detail: $"line {element.Line}");
            return;
        }

        if (!at.Move(duration * sign, attributes.Tick))
            log.Warn(at.Place, sign < 0 ? "The file goes back beyond the start of the bar; it is taken as the start." : "The file goes on beyond any bar's end; the rest is left out.");
    }

    private void ReadNote(Element element, RawBar bar, Cursor at)
    {
        if (element.Has("chord") && lastNote is not null)
        {
            notes.ReadChordNote(element, lastNote, at);
            return;
        }

        var note = notes.Read(element, bar, at);
        if (note is null) return;
        if (!at.Advance(note.Duration))
        {
            log.Warn(at.Place, "The bar is longer than any bar can be; the rest of it is left out.");
            return;
        }

        var voice = Voice(element);
        if (voice is null) log.Warn(at.Place, $"The part has more than {limits.MostVoices} voices; the others are left out.");
        else NotesOf(bar, voice).Add(note);
        lastNote = voice is null ? null : note;
    }

    private string? Voice(Element element)
    {
        var name = Header.Words(element.TextOf("voice"));
        if (name.Length == 0) name = "1";
        if (part.Voices.Contains(name)) return name;
        if (part.Voices.Count >= limits.MostVoices) return null;
        part.Voices.Add(name);
        return name;
    }

    private static List<RawNote> NotesOf(RawBar bar, string voice)
    {
        if (!bar.Notes.TryGetValue(voice, out var list)) bar.Notes[voice] = list = [];
        return list;
    }
}
