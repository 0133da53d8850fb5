namespace Seamwright.Core.Listening.Free;

/// <summary>Parts notes on one pitch where the level dips.</summary>
internal static class Repeats
{
    // A tongue on one pitch dips at least so far in the ear's window (proposed default).
    private const double LeastDip = 4.5;

    // A dip nearer than this to the next pitch is a tongue that came early or late against the arm, no note of its own.
    private const double LeastPiece = 0.12;

    // A vibrato of 4 to 8 Hz swings the level too, less deep than this, with dips on both sides at its own distance and the pitch swinging along.
    private const double DeepestSwing = 9;
    private const double ShallowestSwing = 1.2;
    private const double Nearest = 0.1;
    private const double Furthest = 0.3;
    private const double PitchSwing = 0.25;

    // So near a change of pitch a dip is that change's tongue, early or late, and no note of its own.
    private const double LeastBesideChange = 0.11;
    private const double Joined = 0.2;

    /// <param name="notes">In order of time.</param>
    /// <param name="places">Where the level dips, in order of time.</param>
    /// <param name="sound">The recording.</param>
    public static List<HeldNote> Parted(List<HeldNote> notes, Boundary[] places, Sounding sound)
    {
        var (found, place) = (new List<HeldNote>(), 0);
        for (var n = 0; n < notes.Count; n++)
        {
            var note = notes[n];
            var (first, last) = (note.From + Least(n - 1), note.To - Least(n));
            var start = note.From;
            while (place < places.Length && places[place].Frame < first) place++;
            for (; place < places.Length && places[place].Frame <= last; place++)
            {
                if (places[place].DipDb < LeastDip || places[place].Frame - start < sound.Frames(LeastPiece) || IsVibrato(places, place, note, sound)) continue;
                Add(found, start, places[place].Frame, sound);
                start = places[place].Frame;
            }

            Add(found, start, note.To, sound);
        }

        return found;

        int Least(int change) => sound.Frames(IsJoined(change) ? LeastBesideChange : LeastPiece);
        bool IsJoined(int change) => change >= 0 && change + 1 < notes.Count && notes[change + 1].From - notes[change].To <= sound.Frames(Joined);
    }

    private static bool IsVibrato(Boundary[] places, int place, HeldNote note, Sounding sound)
    {
        if (places[place].DipDb > DeepestSwing) return false;
        var before = Enumerable.Range(1, place).Select(k => place - k).TakeWhile(i => Away(i) <= Furthest).Any(IsSwing);
        var after = Enumerable.Range(place + 1, places.Length - place - 1).TakeWhile(i => Away(i) <= Furthest).Any(IsSwing);
        if (!before && !after) return false;
        var reach = sound.Frames(Furthest / 2);
        var pitches = Enumerable.Range(Math.Max(note.From, places[place].Frame - reach), 2 * reach).Where(i => i < note.To && sound.HasPitch(i)).Select(i => sound.Pitch[i]).Order().ToArray();
        return pitches.Length > 0 && pitches[pitches.Length * 9 / 10] - pitches[pitches.Length / 10] >= PitchSwing;

        double Away(int i) => Math.Abs(places[i].Frame - places[place].Frame) * sound.Hop;
        bool IsSwing(int i) => Away(i) >= Nearest && places[i].DipDb is >= ShallowestSwing and <= DeepestSwing && places[i].Frame > note.From && places[i].Frame < note.To;
    }

    private static void Add(List<HeldNote> found, int from, int to, Sounding sound)
    {
        if (HeldNotes.MedianOf(sound, from, to) is { } pitch) found.Add(new(from, to, pitch));
    }
}
