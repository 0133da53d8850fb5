namespace Seamwright.Core.Listening.Free;

/// <summary>Tells notes that were played from pitches that only happen: in speech, in noise, in what rings on.</summary>
internal static class Played
{
    private const double Pause = 0.4;
    private const double LeastShare = 0.55;
    private const double LeastLength = 0.1;
    private const double Shortest = 0.05;
    private const double QuietestAgainstLoudest = 30;

    /// <summary>The notes of every stretch that is mostly notes.</summary>
    public static List<HeldNote> Of(List<HeldNote> notes, Sounding sound)
    {
        var kept = new List<HeldNote>();
        var levels = notes.ConvertAll(n => LevelOf(n, sound));
        var loud = levels.Count == 0 ? 0 : levels.Order().ElementAt(levels.Count * 9 / 10);
        var pause = sound.Frames(Pause);
        for (var i = 0; i < notes.Count;)
        {
            var start = i;
            for (i++; i < notes.Count && notes[i].From - notes[i - 1].To <= pause; i++)
            {
            }

            var phrase = notes.GetRange(start, i - start);
            if (IsPlayed(phrase, sound))
                kept.AddRange(phrase.Where((n, k) => n.Frames >= sound.Frames(Shortest) && levels[start + k] >= loud - QuietestAgainstLoudest));
        }

        return kept;
    }

    private static double LevelOf(HeldNote note, Sounding sound)
    {
        var levels = Enumerable.Range(note.From, note.Frames).Select(i => sound.Db[i]).Order().ToArray();
        return levels[levels.Length / 2];
    }

    private static bool IsPlayed(List<HeldNote> phrase, Sounding sound)
    {
        if (!phrase.Exists(n => n.Frames >= sound.Frames(LeastLength))) return false;
        var edge = sound.Frames(Pause / 4);
        var (from, to) = (Math.Max(0, phrase[0].From - edge), Math.Min(sound.Count, phrase[^1].To + edge));
        var all = 0;
        for (var i = from; i < to; i++) all += sound.HasPitch(i) ? 1 : 0;
        return phrase.Sum(n => n.Frames) >= LeastShare * all;
    }
}
