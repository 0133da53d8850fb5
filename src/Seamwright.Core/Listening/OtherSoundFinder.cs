namespace Seamwright.Core.Listening;

/// <summary>Finds a sound of steady pitch beside the player's, by what each held note shows that no single tone can hold.</summary>
/// <remarks>Two signs. A tone held all along stands as a line at one frequency between the harmonics of notes of different pitches
/// (<see cref="StrayLines"/>): what belongs to a note moves with it. One that plays the same notes is never in tune to the cent and shows by lines
/// beside the harmonics, the further off the higher they are (<see cref="UnisonReader"/>). What is heard in rests is no sign: it may be the player.
/// Limits are set so that none of 73 takes alone has one (ground truth, decision 30).</remarks>
internal sealed class OtherSoundFinder
{
    private const double Hop = LiveEar.Hop;

    // So long a room may carry an earlier note into a later one.
    private const double Rings = 1.2;
    private const int MostNotes = 160;

    private const double LeastShare = 0.35;
    private const double MostMirrored = 0.1;
    private const double LeastUnison = -30;
    private const int FewestUnisons = 2;
    private const double UnisonsOf = 0.08;

    // In a room a note's own returns, of its beginning and of the way to it, now and then lie beside its harmonics: one note in eight at most (of 48 takes in
    // rooms), where a player who plays along shows in one of three or more.
    private const double UnisonsInRoom = 0.2;

    // Cents between a tenth and nine tenths of a note's frames: further than any vibrato of a trombone, it is on its way by a slow slide, and what
    // is left over beside its harmonics is the way's own.
    private const double MostWay = 60;

    // The same: a vibrato's own side lines, so many the further up, stand between the harmonics as steadily as a held tone.
    private const double MostSwing = 45;

    private const double LeastLine = -38;
    private const int FewestNotes = 4;
    private const int FewestPitches = 3;
    private const double LinesOf = 0.6;
    private const double OneLine = 1.2;

    // Mains and their multiples are the hum's own affair.
    private const double NearMains = 0.7;

    // What hides behind the player's harmonics is not counted; a player's own level wavers by as much.
    private const double Hidden = 2;

    private readonly RoughTrack track;
    private readonly List<Note> notes = [];

    private OtherSoundFinder(SampleStore samples, RoughTrack track, IEnumerable<Stretch> stretches)
    {
        this.track = track;
        var all = stretches.OrderBy(s => s.From).Select(Of).Where(n => n.Hz > 0).ToList();
        var (lines, unison, step) = (new StrayLines(samples), new UnisonReader(samples), Math.Max(1, (all.Count + MostNotes - 1) / MostNotes));
        for (var i = 0; i < all.Count; i += step)
        {
            var n = all[i];
            notes.Add(n with { Lines = n.Swings ? null : lines.Of(n.From, n.To, n.Hz, n.Db, Ringing(all, i)), Unison = n.Travels ? null : unison.Of(n.From, n.To, n.Hz) });
        }
    }

    /// <summary>The other sound; null where there is no sign of one.</summary>
    /// <param name="samples">The recording.</param>
    /// <param name="track">Its pitch and level.</param>
    /// <param name="stretches">Where notes were found in it.</param>
    /// <param name="rings">Whether the room answers.</param>
    public static OtherSound? Of(SampleStore samples, RoughTrack track, IEnumerable<Stretch> stretches, bool rings)
    {
        var finder = new OtherSoundFinder(samples, track, stretches);
        return finder.Held() ?? finder.Along(rings ? UnisonsInRoom : UnisonsOf);
    }

    private OtherSound? Along(double least)
    {
        var looked = notes.Where(n => n.Unison is not null).ToList();
        var found = looked.Where(n => n.Unison is { } u && u.Share >= LeastShare && u.Mirror <= MostMirrored && u.Seen >= LeastUnison).ToList();
        if (found.Count < Math.Max(FewestUnisons, least * looked.Count)) return null;
        var levels = found.Select(n => n.Db + n.Unison!.Value.Level).Order().ToArray();
        return Found(levels[levels.Length / 2] + Hidden, null, found, looked.Count);
    }

    private OtherSound Found(double db, double? hz, List<Note> found, int looked)
    {
        var levels = notes.Select(n => n.Db).Order().ToArray();
        return new(db, levels[levels.Length / 2] - db, hz, found.Count, looked, found[0].From, found[^1].To);
    }

    private OtherSound? Held()
    {
        var looked = notes.Where(n => n.Lines is not null).ToList();
        var held = new List<(double Hz, double Power)>();
        foreach (var at in looked.SelectMany(n => n.Lines!.Lines.Where(l => Energy.ToDb(l.Power) >= n.Db + LeastLine)).Select(l => l.Hz).Order())
        {
            if (held.Count > 0 && at - held[^1].Hz < 2 * OneLine) continue;
            if (!IsMains(at) && PowerOf(looked, at) is { } power) held.Add((at, power));
        }

        if (held.Count == 0) return null;
        var with = looked.Where(n => held.Exists(h => Near(n, h.Hz) is not null)).ToList();
        return Found(Energy.ToDb(held.Sum(h => h.Power)) + Hidden, held[0].Hz, with, looked.Count);
    }

    // Of the notes in which it could be seen.
    private static double? PowerOf(List<Note> looked, double hz)
    {
        var showing = looked.Where(n => n.Lines!.Shows(hz)).ToList();
        var with = showing.Select(n => (Note: n, Line: Near(n, hz))).Where(x => x.Line is not null).ToList();
        if (with.Count < FewestNotes || with.Count < LinesOf * showing.Count) return null;
        if (with.Select(x => (int)Math.Round(12 * Math.Log2(x.Note.Hz / 440))).Distinct().Count() < FewestPitches) return null;
        var powers = with.Select(x => x.Line!.Value.Power).Order().ToArray();
        return powers[powers.Length / 2];
    }

    private static (double Hz, double Power)? Near(Note note, double hz) =>
        note.Lines!.Near(hz, OneLine) is { } line && Energy.ToDb(line.Power) >= note.Db + LeastLine ? line : null;

    private static bool IsMains(double hz) => Math.Abs(Math.IEEERemainder(hz, 50)) < NearMains || Math.Abs(Math.IEEERemainder(hz, 60)) < NearMains;

    private static List<double> Ringing(List<Note> all, int note)
    {
        var before = new List<double>();
        for (var i = note - 1; i >= 0 && all[i].To > all[note].From - Rings; i--) before.Add(all[i].Hz);
        return before;
    }

    private Note Of(Stretch s)
    {
        var frames = Enumerable.Range(s.From, Math.Max(0, Math.Min(track.Count, s.To) - s.From)).Where(i => track.Hz[i] > 0).ToArray();
        if (frames.Length == 0) return default;
        double Median(double[] of) => frames.Select(i => of[i]).Order().ElementAt(frames.Length / 2);
        var hz = frames.Select(i => track.Hz[i]).Order().ToArray();
        var way = 1200 * Math.Log2(hz[^(1 + (hz.Length / 10))] / hz[hz.Length / 10]);
        return new(s.From * Hop, s.To * Hop, Median(track.Hz), Median(track.Db), null, null, way > MostSwing, way > MostWay);
    }

    private readonly record struct Note(double From, double To, double Hz, double Db, NoteLines? Lines, Unison? Unison, bool Swings, bool Travels);
}
