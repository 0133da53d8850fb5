using Seamwright.Core.Scores.Assembling;

namespace Seamwright.Core.Scores.Midi;

/// <summary>Reads Standard MIDI Files of formats 0 and 1.</summary>
/// <remarks><para>Each channel of each track that holds notes becomes a part, but percussion. Onsets and ends become note values as
/// <see cref="Quantiser"/> says, names as <see cref="Spelling"/> says. Of notes that begin together the top one is kept; a note that still
/// sounds when the next begins ends there. A file without key signature gets the one that leaves the fewest accidentals; one without
/// meter is read in 4/4. Slurs, marks and repeats are nothing such a file holds.</para>
/// <para>The file is untrusted: <see cref="ReadLimits"/> bound what it may cost, and a damaged track is used up to the damage.</para>
/// <para>Source: MIDI Manufacturers Association, Standard MIDI Files 1.0 (RP-001).</para></remarks>
public static class MidiReader
{
    /// <summary>Reads a file.</summary>
    /// <param name="content">The file, from its current place to its end.</param>
    /// <param name="fileName">Named in messages only.</param>
    /// <param name="limits">Null for <see cref="ReadLimits.Default"/>.</param>
    /// <returns>A score of at least one part, or an <see cref="Severity.Error"/> that says what is wrong with the file.</returns>
    public static Outcome<Score> Read(Stream content, string fileName, ReadLimits? limits = null)
    {
        var within = limits ?? ReadLimits.Default;
        if (within.Validate() is { IsEmpty: false } wrong) return Outcome<Score>.Failed(wrong);
        try
        {
            var bytes = WholeFile.Read(content, within.MostBytes);
            if (bytes.Length == 0) return Outcome<Score>.Failed(fileName, "The file is empty.");
            if (!MidiBytes.LookLikeMidi(bytes)) return Outcome<Score>.Failed(fileName, "This is not a MIDI file: it does not begin with 'MThd'.", "Export the music as a Standard MIDI File (.mid).");
            return Read(bytes, fileName, within);
        }
        catch (LimitException e)
        {
            return Outcome<Score>.Failed(fileName, $"The file {e.Message}", "A part for one instrument is far smaller: export the part alone.");
        }
        catch (InvalidDataException e)
        {
            return Outcome<Score>.Failed(fileName, $"The MIDI file cannot be used: {e.Message}", "Export or copy it again, as format 0 or 1.");
        }
    }

    private static Outcome<Score> Read(byte[] bytes, string fileName, ReadLimits limits)
    {
        var log = new ProblemLog();
        var song = new MidiSong(MidiBytes.Read(bytes, fileName, limits, log), fileName, limits, log);
        if (song.Lines.Count == 0)
            return Outcome<Score>.Failed([new Problem(fileName, "The file holds no notes that could be played.", "Export it with at least one track of notes.", Severity.Error), .. log.Condensed()]);
        var melodies = song.Lines.ConvertAll(l => Melody.Of(l, song.TicksPerQuarter));
        var grid = BarGrid.Of(song, FirstKey(song, fileName, log), melodies.Max(m => m.Notes[^1].End), limits);
        if ((long)grid.Count * melodies.Count > limits.MostBarsInAll) throw new LimitException($"holds more than {limits.MostBarsInAll} bars in all its parts.");
        if (song.Meters.Count == 0) log.Note(new Place(fileName), "The file gives no time signature; 4/4 is taken.");
        var parts = melodies.SelectMany((m, i) => PartAssembler.Assemble(MidiPart.Of($"P{i + 1}", song.Lines[i].Name, m, grid, log), log)).ToList();
        return Outcome<Score>.Of(new Score { Title = song.Title, Rights = song.Rights, Parts = [.. parts] }, log.Condensed());
    }

    private static KeySignature FirstKey(MidiSong song, string fileName, ProblemLog log)
    {
        if (song.Keys.Count > 0) return song.Keys[0].Key;
        var key = KeyGuess.Of(song.Lines.SelectMany(l => l.Keys).Select(k => k.Key));
        log.Note(new Place(fileName), "The file gives no key signature; the one that leaves the fewest accidentals is taken.", detail: key.ToDisplay());
        return key;
    }
}
