namespace Seamwright.Core.Scores.Assembling;

/// <summary>Turns the raw bars of a part into one <see cref="Part"/> for each voice that has notes.</summary>
internal static class PartAssembler
{
    public static IEnumerable<Part> Assemble(RawPart raw, ProblemLog log)
    {
        var ids = new NoteIds(raw);
        var voices = Voices(raw);
        var assemblers = voices.Select(v => new VoiceAssembler(raw, v, HomeStaff(raw, v), ids, log)).ToList();
        var bars = assemblers.Select(a => a.Bars()).ToList();
        var placed = assemblers.Select(a => a.Placed).ToList();
        var slurs = new SpanPairing(raw.Name, glissandi: false, log).Pair(placed);
        var glissandi = new SpanPairing(raw.Name, glissandi: true, log).Pair(placed);
        return voices.Select((voice, i) => new Part
        {
            Id = raw.Id,
            Name = raw.Name,
            Voice = voice,
            Transposition = raw.Transposition,
            Bars = [.. bars[i]],
            Slurs = [.. slurs[i]],
            Glissandi = [.. glissandi[i]],
        });
    }

    // A part of rests alone stays one part, so that the reader of the sheet sees it was there.
    private static List<string> Voices(RawPart raw)
    {
        var sounding = raw.Voices.Where(v => raw.Bars.Exists(b => b.Notes.GetValueOrDefault(v)?.Exists(n => n.Pitch is not null) ?? false)).ToList();
        return sounding.Count > 0 ? sounding : [raw.Voices.Count > 0 ? raw.Voices[0] : "1"];
    }

    private static int HomeStaff(RawPart raw, string voice)
    {
        var notes = raw.Bars.SelectMany(b => b.Notes.GetValueOrDefault(voice) ?? []);
        return (notes.FirstOrDefault(n => n.Pitch is not null) ?? notes.FirstOrDefault())?.Staff ?? 1;
    }
}
