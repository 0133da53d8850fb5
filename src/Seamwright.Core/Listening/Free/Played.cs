namespace Seamwright.Core.Listening.Free;

/// <summary>Tells notes that were played from pitches that only happen: in speech, in noise, in what rings on.</summary>
/// <remarks>Where music is played most of what sounds is held; in speech the pitch is under way or missing most of the time, and what
/// is held is short. All limits are proposed defaults. Linear in the recording.</remarks>
internal static class Played
{
    private const double About = 0.8;
    private const double LeastShare = 0.5;
    private const double SureShare = 0.8;
    private const double LongNote = 0.22;
    private const double Shortest = 0.05;
    private const double QuietestAgainstLoudest = 30;

    /// <summary>The notes about which most of what sounds is held.</summary>
    public static List<HeldNote> Of(List<HeldNote> notes, Sounding sound)
    {
        if (notes.Count == 0) return notes;
        var levels = notes.ConvertAll(n => LevelOf(n, sound));
        var loud = levels.Order().ElementAt(levels.Count * 9 / 10);
        var sums = new Sums(notes, sound);
        return [.. notes.Where((n, i) => n.Frames >= sound.Frames(Shortest) && levels[i] >= loud - QuietestAgainstLoudest && IsPlayed(n, sums, sound))];
    }

    private static double LevelOf(HeldNote note, Sounding sound)
    {
        var levels = Enumerable.Range(note.From, note.Frames).Select(i => sound.Db[i]).Order().ToArray();
        return levels[levels.Length / 2];
    }

    private static bool IsPlayed(HeldNote note, Sums sums, Sounding sound)
    {
        var about = sound.Frames(About);
        var (sounding, held, isLong) = sums.Between(note.From - about, note.To + about);
        return held >= (isLong > 0 ? LeastShare : SureShare) * sounding;
    }

    /// <summary>Counts of frames up to each frame.</summary>
    private sealed class Sums
    {
        private readonly int[] sounding;
        private readonly int[] held;
        private readonly int[] isLong;

        public Sums(List<HeldNote> notes, Sounding sound)
        {
            (sounding, held, isLong) = (new int[sound.Count + 1], new int[sound.Count + 1], new int[sound.Count + 1]);
            var n = 0;
            for (var i = 0; i < sound.Count; i++)
            {
                while (n < notes.Count && notes[n].To <= i) n++;
                var inNote = n < notes.Count && notes[n].From <= i;
                sounding[i + 1] = sounding[i] + (inNote || !sound.Silent[i] ? 1 : 0);
                held[i + 1] = held[i] + (inNote ? 1 : 0);
                isLong[i + 1] = isLong[i] + (inNote && notes[n].Frames >= sound.Frames(LongNote) ? 1 : 0);
            }
        }

        public (int Sounding, int Held, int Long) Between(int from, int to)
        {
            (from, to) = (Math.Max(0, from), Math.Min(sounding.Length - 1, to));
            return (sounding[to] - sounding[from], held[to] - held[from], isLong[to] - isLong[from]);
        }
    }
}
