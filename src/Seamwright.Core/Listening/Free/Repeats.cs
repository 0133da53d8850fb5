namespace Seamwright.Core.Listening.Free;

/// <summary>Parts notes on one pitch where the level dips.</summary>
internal static class Repeats
{
    // A vibrato's own swings of the level stay below this; a tongue on one pitch dips at least so far in the ear's window.
    private const double LeastDip = 4.5;
    private const double LeastPiece = 0.06;

    /// <param name="notes">In order of time.</param>
    /// <param name="places">Where the level dips, in order of time.</param>
    /// <param name="sound">The recording.</param>
    public static List<HeldNote> Parted(List<HeldNote> notes, Boundary[] places, Sounding sound)
    {
        var (found, place, least) = (new List<HeldNote>(), 0, sound.Frames(LeastPiece));
        foreach (var note in notes)
        {
            var start = note.From;
            while (place < places.Length && places[place].Frame < note.From + least) place++;
            for (; place < places.Length && places[place].Frame <= note.To - least; place++)
            {
                if (places[place].DipDb < LeastDip || places[place].Frame - start < least) continue;
                Add(found, start, places[place].Frame, sound);
                start = places[place].Frame;
            }

            Add(found, start, note.To, sound);
        }

        return found;
    }

    private static void Add(List<HeldNote> found, int from, int to, Sounding sound)
    {
        if (HeldNotes.MedianOf(sound, from, to) is { } pitch) found.Add(new(from, to, pitch));
    }
}
