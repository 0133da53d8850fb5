using Seamwright.Core.Scores.Assembling;
using Seamwright.Core.Units;

namespace Seamwright.Core.Scores.Abc;

/// <summary>Grace notes in braces (ABC 2.1, section 4.12).</summary>
/// <remarks>The standard leaves their length to the reader: a single one is written as an eighth, several as sixteenths (common practice).</remarks>
internal sealed class GraceReader(ProblemLog log)
{
    private const int MostTogether = 64;

    public void Read(VoiceLine voice, Scan scan)
    {
        var at = new Scan("", scan.Line, scan.Column);
        scan.Skip();
        if (scan.Until('}') is not { } inside)
        {
            log.Warn(at.Here(voice.Name), "Grace notes are not closed; the brace is skipped.");
            return;
        }

        var notes = new List<(Pitch Pitch, (int Times, int By) Length)>();
        var kind = inside.StartsWith('/') ? Grace.Slashed : Grace.Plain;
        var scanned = new Scan(inside, at.Line, at.Column + 1);
        while (!scanned.Ended) ReadOne(voice, scanned, notes);
        var unit = notes.Count > 1 ? new Beats(1, 4) : new Beats(1, 2);
        foreach (var (pitch, length) in notes.Take(MostTogether))
            voice.Graces.Add(voice.Grace(pitch, Shapes.Exact(unit.Times(length.Times, length.By)) ?? Shapes.Nearest(unit), kind));
    }

    private void ReadOne(VoiceLine voice, Scan scan, List<(Pitch, (int, int))> notes)
    {
        var place = scan.Here(voice.Name);
        var accidental = Letters.Accidental(scan);
        if (Letters.StepOf(scan.Next) is null)
        {
            if (accidental is null) scan.Skip();
            return;
        }

        var (step, octave) = Letters.Pitch(scan);
        var length = Letters.Length(scan) ?? (1, 1);
        if (voice.PitchOf(step, octave, accidental) is { } pitch) notes.Add((pitch, length));
        else log.Warn(place, "A grace note lies outside anything that can be played and is left out.");
    }
}
